package website

import (
	"errors"
	"html/template"
	"maps"
	"path"
	"regexp"
	"slices"
	"strconv"

	"mereleaf/cmd/mereleaf/internal/diag"
	"mereleaf/cmd/mereleaf/internal/website/bundle"
)

// parse reads the theme's templates.
func parse(texts map[string]string) (*template.Template, error) {
	all := template.New("theme").Option("missingkey=error")
	for _, name := range slices.Sorted(maps.Keys(texts)) {
		if _, err := all.New(name).Parse(texts[name]); err != nil {
			return nil, templateFault(err)
		}
	}
	return all, nil
}

// A template's error begins "template: NAME:LINE:COLUMN: " or, where it would
// make unsafe HTML, "html/template:NAME:LINE:COLUMN: "; the column may lack.
var templateError = regexp.MustCompile(`^(?:html/)?template: ?([^:]+):(\d+):(?:(\d+):)? (.+)$`)

// templateFault gives an error of a template its position.
func templateFault(err error) error {
	var d diag.Diagnostic
	var list diag.List
	if errors.As(err, &d) || errors.As(err, &list) {
		return err
	}
	m := templateError.FindStringSubmatch(err.Error())
	if m == nil {
		return diag.Diagnostic{Position: diag.Position{File: bundle.TemplatesFolder}, Problem: err.Error(), Remedy: "correct the template"}
	}
	line, _ := strconv.Atoi(m[2]) // digits by the pattern
	column, _ := strconv.Atoi(m[3])
	if m[3] != "" {
		column++ // the template counts from 0
	}
	return diag.Diagnostic{
		Position: diag.Position{File: path.Join(bundle.TemplatesFolder, m[1]), Line: line, Column: column},
		Problem:  m[4], Remedy: "correct the template",
	}
}
