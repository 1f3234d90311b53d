package pantry

import (
	"encoding/json"
	"fmt"
	"time"
)

// SettingsID is the id under which a device keeps its settings.
const SettingsID = "settings"

// MostAltitude is the highest altitude, in feet, that a household may have.
const MostAltitude = 20000

// SweepMonths is how often a household goes round its jars, unless it says
// otherwise. Common practice, no source.
const SweepMonths = 3

// Settings are a household's own. They stay with the device: a merge does not
// touch them.
type Settings struct {
	Version      int        `json:"version"`
	AltitudeFeet *int       `json:"altitude_feet,omitempty"` // above sea level; nil when not given
	SweepMonths  int        `json:"sweep_months,omitempty"`  // 0 for the usual
	Fahrenheit   bool       `json:"fahrenheit,omitempty"`
	LastBackup   *time.Time `json:"last_backup,omitempty"`
	Changed      time.Time  `json:"changed"`
	Revision     int64      `json:"revision"`
}

// Every is how many months lie between two sweeps.
func (s *Settings) Every() int {
	if s.SweepMonths > 0 {
		return s.SweepMonths
	}
	return SweepMonths
}

// Validate tells what is wrong with the settings.
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
