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

// Settings are a household's own.
type Settings struct {
	Version      int       `json:"version"`
	AltitudeFeet *int      `json:"altitude_feet,omitempty"` // above sea level; nil when not given
	Changed      time.Time `json:"changed"`
	Revision     int64     `json:"revision"`
}

// Validate tells what is wrong with the settings.
func (s *Settings) Validate() error {
	f := faults{record: "settings"}
	if s.Version != Version {
		f.add("version", "%d, this program knows %d", s.Version, Version)
	}
	if a := s.AltitudeFeet; a != nil && (*a < -1500 || *a > MostAltitude) {
		f.add("altitude_feet", "%d lies outside -1500 to %d", *a, MostAltitude)
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
	return s, s.Validate()
}
