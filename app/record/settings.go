package record

import (
	"encoding/json"
	"fmt"
	"time"
)

// SettingsID is the id under which a device keeps its settings.
const SettingsID = "settings"

// MostAltitude is the highest altitude, in feet, that a household may have.
const MostAltitude = 20000

// SweepMonths is how often a household goes round its jars, unless it sets
// another number. Common practice, no source.
const SweepMonths = 3

// Settings are a household's own. A backup fills in what was never set on the device
// that reads it; what was set here is only changed when the person asks for it.
type Settings struct {
	Version      int        `json:"version"`
	AltitudeFeet *int       `json:"altitude_feet,omitempty"` // feet above sea level; nil when not given
	SweepMonths  int        `json:"sweep_months,omitempty"`  // 0 for the usual
	Fahrenheit   bool       `json:"fahrenheit,omitempty"`
	LastBackup   *time.Time `json:"last_backup,omitempty"`
	Changed      time.Time  `json:"changed"`
	Revision     int64      `json:"revision"`
}

// MonthsBetweenSweeps is how many months lie between two sweeps.
func (s *Settings) MonthsBetweenSweeps() int {
	if s.SweepMonths > 0 {
		return s.SweepMonths
	}
	return SweepMonths
}

// IsEmpty reports whether nothing was ever set.
func (s *Settings) IsEmpty() bool {
	return s.AltitudeFeet == nil && s.SweepMonths == 0 && s.Revision == 0
}

// From merges the settings with those of a file: everything that the file sets if
// whole is true, and otherwise only what was never set here. The last backup in the
// file is from the device that wrote it, and the file itself is newer.
func (s Settings) From(file Settings, whole bool) Settings {
	untold := s.IsEmpty()
	if file.AltitudeFeet != nil && (whole || s.AltitudeFeet == nil) {
		feet := *file.AltitudeFeet
		s.AltitudeFeet = &feet
	}
	if file.SweepMonths > 0 && (whole || s.SweepMonths == 0) {
		s.SweepMonths = file.SweepMonths
	}
	if whole || untold {
		s.Fahrenheit = file.Fahrenheit
	}
	return s
}

// Same reports whether two settings say the same.
func (s *Settings) Same(o *Settings) bool {
	altitude := s.AltitudeFeet == nil && o.AltitudeFeet == nil || s.AltitudeFeet != nil && o.AltitudeFeet != nil && *s.AltitudeFeet == *o.AltitudeFeet
	return altitude && s.MonthsBetweenSweeps() == o.MonthsBetweenSweeps() && s.Fahrenheit == o.Fahrenheit
}

// Bind sets the altitude of a batch from a file if the batch has none of its own
// and the file's household lived elsewhere: what is restored is judged as it
// was.
func (b *Batch) Bind(file, here *Settings, now time.Time) bool {
	elsewhere := file.AltitudeFeet != nil && (here.AltitudeFeet == nil || *here.AltitudeFeet != *file.AltitudeFeet)
	if b.Feet != nil || !elsewhere {
		return false
	}
	feet := *file.AltitudeFeet
	b.Feet = &feet
	b.Touch(now)
	return true
}

// Validate says what is wrong with the settings.
func (s *Settings) Validate() error {
	f := faults{record: "settings"}
	if s.Version < 1 || s.Version > Version {
		f.add("version", "%d, this program knows 1 to %d", s.Version, Version)
	}
	if a := s.AltitudeFeet; a != nil && (*a < -1500 || *a > MostAltitude) {
		f.add("altitude_feet", "%d lies outside -1500 to %d", *a, MostAltitude)
	}
	f.within("sweep_months", s.SweepMonths, 0, 24, "months")
	if s.LastBackup != nil {
		f.time("last_backup", *s.LastBackup)
	}
	if s.Revision < 0 {
		f.add("revision", "%d is below zero", s.Revision)
	}
	return f.err()
}

// Encode writes the settings as JSON, after validating them.
func (s *Settings) Encode() ([]byte, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	return json.Marshal(s)
}

// DecodeSettings reads settings and validates them.
func DecodeSettings(text []byte) (Settings, error) {
	var s Settings
	if err := decode(text, &s); err != nil {
		return Settings{}, fmt.Errorf("settings: %w", err)
	}
	if err := s.Validate(); err != nil {
		return s, err
	}
	s.Version = Version
	return s, nil
}
