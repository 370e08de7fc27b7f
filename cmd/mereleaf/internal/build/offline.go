package build

import (
	"fmt"
	"strings"

	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/figures"
	"mereleaf/cmd/mereleaf/internal/paths"
	"mereleaf/cmd/mereleaf/internal/website/offline"
)

// offline writes the web app manifest, and after everything else the worker,
// which lists all that was written before it.
func (s *stage) offline(b *Build) error {
	manifest, err := offline.Manifest(offline.App{
		Title: b.Book.Config.Title, Language: b.Book.Config.Language, Ground: b.Assets.Ground,
		Icons: []offline.Icon{
			{Source: b.Assets.Icon, Sizes: "any", Type: "image/svg+xml", Purpose: "any"},
			{Source: b.Assets.Touch, Sizes: "512x512", Type: "image/png", Purpose: "any maskable"},
		},
	})
	if err != nil {
		return err
	}
	if err := s.write(offline.ManifestPath, manifest); err != nil {
		return err
	}
	list, err := s.list.List()
	if err != nil {
		return err
	}
	worker, err := offline.Worker(list, b.Assets.Worker)
	if err != nil {
		return err
	}
	return s.write(offline.WorkerPath, worker)
}

// subjects are the pages whose changes a reader is told of.
func subjects(b *book.Book) map[string]offline.Subject {
	all := map[string]offline.Subject{}
	for _, part := range b.Parts {
		for _, c := range part.Chapters {
			all[c.Place] = offline.Subject{Kind: offline.Chapter, Title: c.Title}
		}
	}
	for _, c := range b.Calculators.All() {
		all[paths.Calculator(c.ID)] = offline.Subject{Kind: offline.Calculator, Title: c.Title}
	}
	for _, set := range b.Library.Sets {
		all[paths.FigureSet(set.Name)] = offline.Subject{Kind: offline.FigureSet, Title: set.Name, Digest: figuresDigest(set)}
	}
	return all
}

// figuresDigest changes with the figures of a set, not with what else its leaf
// says, such as which chapters use it.
func figuresDigest(set *figures.Set) string {
	var b strings.Builder
	for _, c := range set.Columns {
		fmt.Fprintf(&b, "%q %q ", c.Name, c.Unit)
	}
	for _, row := range set.Rows {
		for _, cell := range row.Cells {
			fmt.Fprintf(&b, "%q ", cell.Text)
		}
	}
	return offline.Digest([]byte(b.String()))
}
