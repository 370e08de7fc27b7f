package verify

import (
	"bytes"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"mereleaf/calculators/catalog"
	"mereleaf/cmd/mereleaf/internal/book"
	"mereleaf/cmd/mereleaf/internal/diag"
)

// TestAWrongDigitOfASentenceIsFound changes one number of the real handbook at a
// time, in words and not in a table. It catches
//
//   - a limit with a nought too few: "above 0.05 mg/L, stop feeding" as 0.5, in the
//     first paragraph of the ammonia chapter
//   - the same limit typed without a link
//   - a result of a calculator, a fact of a pond, a count, and the days of a story
//     in that chapter
//   - a voltage in the chapter on electricity, and a factor in the list of terms
//   - the volume of the pond changed in its record: each sentence that says it
func TestAWrongDigitOfASentenceIsFound(t *testing.T) {
	const ammonia = "content/water/30-ammonia.md"
	files := projectFiles(t)
	b, faults := book.Read(files, catalog.All())
	if len(faults) > 0 {
		t.Skip("TestTheHandbookIsInOrder reports what is wrong")
	}
	for _, c := range []struct{ file, old, new, in, want string }{
		{ammonia, "[0.05 mg/L](figure:safety-reading-bands", "[0.5 mg/L](figure:safety-reading-bands", ammonia, "low is 0.5 mg/L here; expected 0.05 mg/L"},
		{ammonia, "[0.05 mg/L](figure:safety-reading-bands?parameter=un-ionised+ammonia&band=act#low)", "0.5 mg/L", ammonia, "the quantity 0.5 mg/L is bound to nothing"},
		{ammonia, "[0.095 mg/L](", "[0.095 g/L](", ammonia, "is not toxic of free-ammonia"},
		{ammonia, "[0.033 mg/L](", "[0.33 mg/L](", ammonia, "is not toxic of free-ammonia; expected 0.033 mg/L"},
		{ammonia, "[twenty koi](", "[twelve koi](", ammonia, "is not fish.count of the pond ines"},
		{ammonia, "[three days](", "[thirteen days](", ammonia, "expected 3 d"},
		{"content/safety/10-electricity.md", "[12 V](", "[21 V](", "content/safety/10-electricity.md", "is 21 V here; expected 12 V"},
		{"content/terms.md", "[17.8 mg/L](", "[18.7 mg/L](", "content/terms.md", "is 18.7 mg/L here; expected 17.8"},
		{"content/ponds/ines.json", `"9100 L"`, `"9400 L"`, ammonia, `"9,100 L" is not volume of the pond ines; expected 9400 L`},
	} {
		if found := edited(t, b, files, c.file, c.old, c.new); !slices.ContainsFunc(found, func(d diag.Diagnostic) bool { return d.File == c.in && strings.Contains(d.String(), c.want) }) {
			t.Errorf("%s with %s for %s: got %v; want %q in %s", c.file, c.new, c.old, found, c.want, c.in)
		}
	}
}

// edited reads the handbook again with one edit of the first such text in a file,
// and returns the faults.
func edited(t *testing.T, b *book.Book, files fstest.MapFS, file, old, replacement string) diag.List {
	t.Helper()
	before := files[file]
	defer func() { files[file] = before }()
	if !bytes.Contains(before.Data, []byte(old)) {
		t.Errorf("%s does not hold %s", file, old)
	}
	files[file] = &fstest.MapFile{Data: bytes.Replace(before.Data, []byte(old), []byte(replacement), 1)}
	_, faults := b.Reread(files, []string{file})
	return faults
}
