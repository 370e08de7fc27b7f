package record

import (
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	cdpbrowser "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/chromedp"

	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
)

// TestExportEraseImport saves the record as a file, erases it, and reads it.
func TestExportEraseImport(t *testing.T) {
	tb := browser.Open(t)
	tb.Touch()
	folder := t.TempDir()
	browsertest.Call(tb, cdpbrowser.SetDownloadBehavior, cdpbrowser.SetDownloadBehaviorParams{Behavior: cdpbrowser.SetDownloadBehaviorBehaviorAllow, DownloadPath: folder, BrowserContextID: chromedp.FromContext(tb).BrowserContextID})
	want := tb.FillPond()
	tb.Record()
	list := tb.Text(`[data-part="all"] ul`)
	before := tb.Kept()
	for _, text := range []string{"2400\u00a0gal (imp)", "tench", "typed today"} {
		if !strings.Contains(list, text) {
			t.Errorf("the list of what is kept has no %q", text)
		}
	}
	tb.Do(chromedp.Click(chromedp.CSS(`[data-part="export"]`)))
	file := filepath.Join(folder, "pond-record-"+tb.Now().Format(time.DateOnly)+".json")
	text := tb.Downloaded(file)
	if got := browsertest.Facts(t, text); !maps.Equal(got, want) {
		t.Errorf("the file has %v; want %v", got, want)
	}

	tb.Press("erase")
	tb.Press("keep")
	if tb.Kept() != before {
		t.Error("erased although the reader said no")
	}
	tb.Press("erase")
	tb.Press("yes")
	tb.Says(`[data-part="said"]`, "nothing is kept")
	if n := browsertest.Evaluate[int](tb, `localStorage.length`); n != 0 {
		t.Errorf("after erasing, %d keys are left", n)
	}
	tb.Press("back")
	if tb.Kept() != before {
		t.Error("what was erased by mistake does not come back")
	}
	tb.Press("erase")
	tb.Press("yes")
	tb.Reckon("nitrite")
	if got := tb.Holds("nitrite", "volume"); got == "2400" {
		t.Error("after erasing, a calculator is filled still")
	}

	tb.Record()
	tb.Upload(file)
	tb.Says(`[data-part="said"]`, "Taken from the file")
	if got := tb.Kept(); got != before {
		t.Errorf("exported, erased and imported it is %s; it was %s", got, before)
	}
}

// TestImportReports reads files with something wrong in them over a record.
func TestImportReports(t *testing.T) {
	tb := browser.Open(t)
	tb.Touch()
	tb.FillPond()
	before := tb.Kept()
	folder := t.TempDir()
	for _, c := range []struct{ text, says string }{
		{`{"pond record":1,"facts":{"volume":"`, "is damaged"},
		{`[1, 2]`, "is no pond record"},
		{`{"pond record":2,"facts":{"volume":"1 L"}}`, "newer edition"},
		{`{"pond record":1,"facts":{"moat-depth":"1 m"}}`, "moat-depth: no calculator of this edition asks for it"},
	} {
		file := filepath.Join(folder, "a.json")
		if err := os.WriteFile(file, []byte(c.text), 0o644); err != nil {
			t.Fatal(err)
		}
		tb.Record()
		tb.Upload(file)
		tb.Says(`[data-part="said"]`, c.says)
		if tb.Kept() != before {
			t.Fatalf("the file %s has changed what is kept", c.text)
		}
	}

	file := filepath.Join(folder, "b.json")
	if err := os.WriteFile(file, []byte(`{"pond record":1,"facts":{"volume":"777 L","fish":7,"kh-kit":"scottish","moat-depth":"1 m"}}`), 0o644); err != nil {
		t.Fatal(err)
	}
	tb.Record()
	tb.Upload(file)
	for _, want := range []string{"1 fact.", "fish: is not text", "kh-kit: “scottish” is none of caco3, german", "moat-depth"} {
		tb.Says(`[data-part="said"]`, want)
	}
	if got := browsertest.Facts(t, tb.Kept()); !maps.Equal(got, map[string]string{"volume": "777 L"}) {
		t.Errorf("taken is %v", got)
	}
	tb.Press("back")
	if tb.Kept() != before {
		t.Error("what the file replaced does not come back")
	}
}

// TestRecordLink opens the link in a fresh profile, and in one that has another
// record.
func TestRecordLink(t *testing.T) {
	tb := browser.Open(t)
	tb.Touch()
	tb.FillPond()
	tb.Record()
	tb.Await(`document.querySelector("[data-part=link]").value !== ""`, "there is no link")
	link := browsertest.Evaluate[string](tb, `document.querySelector("[data-part=link]").value`)
	before := tb.Kept()

	fresh := browser.Open(t)
	fresh.Touch()
	fresh.Do(chromedp.Navigate(link))
	fresh.Says(`[data-part="said"]`, "Taken from the link")
	if fresh.Kept() != before {
		t.Errorf("in a fresh profile the link brings %s; want %s", fresh.Kept(), before)
	}
	if hash := browsertest.Evaluate[string](fresh, `location.hash`); hash != "" {
		t.Errorf("the address still carries %q", hash)
	}
	for _, url := range fresh.Asked() {
		if strings.Contains(strings.TrimPrefix(url, link[:strings.IndexByte(link, '#')]), "=") {
			t.Errorf("the record went to the server: %s", url)
		}
	}

	other := browser.Open(t)
	other.Touch()
	other.Reckon("nitrite")
	other.Write("nitrite", "volume", "1000")
	own := other.Kept()
	other.Do(chromedp.Navigate(link))
	other.Says(`[data-part="differ"]`, "1000\u00a0L2400\u00a0gal (imp)")
	other.Press("mine")
	if other.Kept() != own {
		t.Error("the record was replaced although the reader left it")
	}
	other.Do(chromedp.Navigate(other.Address), chromedp.Navigate(link))
	other.Says(`[data-part="differ"]`, "tench")
	other.Press("theirs")
	if other.Kept() != before {
		t.Errorf("taken from the link is %s; want %s", other.Kept(), before)
	}
	other.Press("back")
	if other.Kept() != own {
		t.Error("what the link replaced does not come back")
	}

	other.Do(chromedp.Navigate(other.Address), chromedp.Navigate(link[:len(link)-20]))
	other.Says(`[data-part="said"]`, "cut short")
	if other.Kept() != own {
		t.Error("half a link has changed what is kept")
	}
}
