package offline

import (
	"encoding/json"
	"strings"
)

// App is what the manifest says of the handbook.
type App struct {
	Title, Language string
	Ground          string // CSS colour
	Icons           []Icon
}

// Icon is a picture for a home screen.
type Icon struct {
	Source  string `json:"src"`   // path in the edition
	Sizes   string `json:"sizes"` // "512x512", or "any" for one that scales
	Type    string `json:"type"`
	Purpose string `json:"purpose"`
}

// manifest is a W3C Web Application Manifest. Its addresses are relative to the
// manifest, so the edition may stand anywhere.
type manifest struct {
	Name       string `json:"name"`
	ShortName  string `json:"short_name"`
	Language   string `json:"lang"`
	Start      string `json:"start_url"`
	Scope      string `json:"scope"`
	Display    string `json:"display"`
	Theme      string `json:"theme_color"`
	Background string `json:"background_color"`
	Icons      []Icon `json:"icons"`
}

// Manifest returns the manifest as JSON.
func Manifest(a App) ([]byte, error) {
	return json.MarshalIndent(manifest{
		Name: a.Title, ShortName: short(a.Title), Language: a.Language,
		Start: ".", Scope: ".", Display: "standalone",
		Theme: a.Ground, Background: a.Ground, Icons: a.Icons,
	}, "", "  ")
}

// room is how many letters a telephone shows under an icon.
const room = 12

// short is as many whole words of a title as stand under an icon, but at least
// one.
func short(title string) string {
	kept := ""
	for _, word := range strings.Fields(title) {
		longer := strings.TrimSpace(kept + " " + word)
		if kept != "" && len([]rune(longer)) > room {
			break
		}
		kept = longer
	}
	return kept
}
