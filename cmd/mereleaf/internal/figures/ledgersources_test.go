package figures

import (
	"strings"
	"testing"
	"testing/fstest"
)

// heldSources is a ledger that holds the sources and no set.
func heldSources(lib *Library) string {
	held := "set,columns,rows\n"
	for _, s := range lib.Sources {
		held += SourceLine(s) + "\n"
	}
	return held
}

// A slip in what is known of a source is found in its own line, and the fault
// brings the ledger's line to paste. It catches, among others: another year of
// Emerson 1975, another word in the title of edis-fa016.
func TestLedgerHoldsTheSources(t *testing.T) {
	lib, _ := Read(toyFiles(nil))
	held := heldSources(lib)
	for _, c := range []struct{ name, old, new, want string }{
		{"as it was", "", "", ""},
		{"laid out differently", `"type": "book", `, "\"type\":\n\"book\",", ""},
		{"another year", "2001]]", "2010]]", SourcesFile + ":2:88: the issued of toy-2001 is {\"date-parts\":[[2010]]} here, which differs from the ledger"},
		{"another title", "Toys", "Boys", SourcesFile + ":2:38: the title of toy-2001 is \"Boys\" here, which differs from the ledger"},
		{"another author", "Brook", "Brock", SourcesFile + ":2:55: the author of toy-2001"},
		{"a field more", `"More toys"`, `"More toys", "DOI": "10.1000/1"`, SourcesFile + ":3:60: the DOI of toy-2002 is not in the ledger"},
		{"a field less", `"book", "title": "More toys"`, `"book"`, SourcesFile + ":3:3: the source toy-2002 has lost its title"},
		{"a source more", "\n]", ",\n  {\"id\": \"toy-2003\", \"type\": \"book\", \"title\": \"New\"}\n]", SourcesFile + ":4:3: the source toy-2003 is not in the ledger"},
		{"a source less", `{"id": "toy-2001", "type": "book", "title": "Toys", "author": [{"family": "Brook"}], "issued": {"date-parts": [[2001]]}},`, "", LedgerFile + ":2:1: the ledger has the source toy-2001, which is not listed"},
	} {
		t.Run(c.name, func(t *testing.T) {
			files := toyFiles(nil)
			files[SourcesFile] = &fstest.MapFile{Data: []byte(strings.Replace(toySources, c.old, c.new, 1))}
			files[LedgerFile] = &fstest.MapFile{Data: []byte(held)}
			lib, _ := Read(files)
			got := CheckLedger(lib, files)
			switch {
			case c.want == "" && len(got) > 0:
				t.Errorf("faults: %v", got)
			case c.want != "" && (len(got) != 1 || !strings.HasPrefix(got[0].String(), c.want)):
				t.Errorf("got %v, want %q", got, c.want)
			}
			for _, s := range lib.Sources {
				if strings.Contains(c.want, " of "+s.ID) && !strings.Contains(got.Error(), SourceLine(s)) {
					t.Errorf("%v does not bring the line to paste", got)
				}
			}
		})
	}
}
