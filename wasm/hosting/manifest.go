package hosting

import (
	"encoding/json"
	"fmt"
)

const manifestKind = "application/manifest+json"

// manifest says how a device shows the installed app, in a language.
func (s *Site) manifest(a App, language, describe string) ([]byte, error) {
	type icon struct {
		Src     string `json:"src"`
		Type    string `json:"type"`
		Sizes   string `json:"sizes"`
		Purpose string `json:"purpose"`
	}
	root := s.prefix + "/"
	icons := root + "static/icons/"
	text, err := json.MarshalIndent(struct {
		ID          string `json:"id"`
		Name        string `json:"name"`
		ShortName   string `json:"short_name"`
		Description string `json:"description"`
		Lang        string `json:"lang"`
		StartURL    string `json:"start_url"`
		Scope       string `json:"scope"`
		Display     string `json:"display"`
		Background  string `json:"background_color"`
		Theme       string `json:"theme_color"`
		Icons       []icon `json:"icons"`
	}{
		ID: root, Name: a.Name, ShortName: a.Name, Description: describe, Lang: language,
		StartURL: root, Scope: root, Display: "standalone",
		Background: backgroundColor, Theme: themeColor,
		Icons: []icon{
			{icons + "icon-192.png", "image/png", "192x192", "any"},
			{icons + "icon-512.png", "image/png", "512x512", "any"},
			{icons + "maskable-512.png", "image/png", "512x512", "maskable"},
			{icons + "mark.svg", "image/svg+xml", "any", "any"},
		},
	}, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("manifest: %w", err)
	}
	return append(text, '\n'), nil
}
