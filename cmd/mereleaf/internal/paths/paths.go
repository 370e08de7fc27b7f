// Package paths says where each thing of the handbook stands in an edition.
// All paths are slash-separated and relative to the edition's folder, so that
// the handbook works at any address, and from a folder without a server.
//
// It touches nothing outside the program.
package paths

import "strings"

// Fixed leaves.
const (
	Cover    = "index.html"
	Terms    = "terms.html"
	Cautions = "cautions.html" // each caution in full
	Ponds    = "ponds.html"    // which the book tells of
	Sources  = "sources.html"
	Figures  = "figures/index.html"
	Reckon   = "reckon/index.html"
	Record   = "record.html"
	Log      = "log.html" // of test readings
	Find     = "find.html"
	Cards    = "cards.html" // for the wall by the pond
	Print    = "print.html" // the whole handbook, for paper

	PrintStyle = "print.css" // of Print alone
)

// What the log of readings is called, and what it is for, on the leaf itself and
// where readers look for it.
const (
	LogTitle = "My readings"
	LogSays  = "A log of your test readings, a diary of the water: charts with the limits drawn in, toxic ammonia, the trend, and when to test again."
)

// OfPond is where a fact of a pond, or the reading of a time, stands on Ponds.
func OfPond(pond, what string) string { return pond + "." + what }

// Part returns the leaf that lists the chapters of a part.
func Part(folder string) string { return folder + "/index.html" }

// Chapter returns a chapter's leaf.
func Chapter(folder, slug string) string { return folder + "/" + slug + ".html" }

// Calculator returns a calculator's own leaf.
func Calculator(id string) string { return "reckon/" + id + ".html" }

// FigureSet returns the leaf that shows a figure set whole.
func FigureSet(name string) string { return "figures/" + name + ".html" }

// Outside reports whether a link names a scheme, such as https or data, and so leads
// out of the handbook. Behind the path, in the time of a reading, a colon says nothing.
func Outside(link string) bool {
	scheme, _, colon := strings.Cut(link, ":")
	return colon && !strings.ContainsAny(scheme, "/?#")
}

// Relative returns the link from one leaf to another, which may end in a
// fragment.
func Relative(from, to string) string {
	for {
		folder, below, ok := strings.Cut(from, "/")
		rest, same := strings.CutPrefix(to, folder+"/")
		if !ok || !same {
			break
		}
		from, to = below, rest
	}
	if fragment, ok := strings.CutPrefix(to, from); ok && strings.HasPrefix(fragment, "#") {
		return fragment
	}
	return strings.Repeat("../", strings.Count(from, "/")) + to
}
