package browser

import (
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	cdpbrowser "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/chromedp"
)

// TestExportEraseImport saves the record as a file, erases it, and reads it.
func TestExportEraseImport(t *testing.T) {
	tb := open(t)
	tb.touch()
	folder := t.TempDir()
	call(tb, cdpbrowser.SetDownloadBehavior, cdpbrowser.SetDownloadBehaviorParams{Behavior: cdpbrowser.SetDownloadBehaviorBehaviorAllow, DownloadPath: folder, BrowserContextID: chromedp.FromContext(tb).BrowserContextID})
	want := fillPond(tb)
	tb.record()
	list := tb.text(`[data-part="all"] ul`)
	before := tb.kept()
	for _, text := range []string{"2400\u00a0gal (imp)", "tench", "typed today"} {
		if !strings.Contains(list, text) {
			t.Errorf("the list of what is kept has no %q", text)
		}
	}
	tb.do(chromedp.Click(chromedp.CSS(`[data-part="export"]`)))
	file := filepath.Join(folder, "pond-record-"+now().Format(time.DateOnly)+".json")
	text := tb.downloaded(file)
	if got := facts(t, text); !maps.Equal(got, want) {
		t.Errorf("the file has %v; want %v", got, want)
	}

	tb.press("erase")
	tb.press("keep")
	if tb.kept() != before {
		t.Error("erased although the reader said no")
	}
	tb.press("erase")
	tb.press("yes")
	tb.says(`[data-part="said"]`, "nothing is kept")
	if n := evaluate[int](tb, `localStorage.length`); n != 0 {
		t.Errorf("after erasing, %d keys are left", n)
	}
	tb.press("back")
	if tb.kept() != before {
		t.Error("what was erased by mistake does not come back")
	}
	tb.press("erase")
	tb.press("yes")
	tb.reckon("nitrite")
	if got := tb.holds("nitrite", "volume"); got == "2400" {
		t.Error("after erasing, a calculator is filled still")
	}

	tb.record()
	tb.upload(file)
	tb.says(`[data-part="said"]`, "Taken from the file")
	if got := tb.kept(); got != before {
		t.Errorf("exported, erased and imported it is %s; it was %s", got, before)
	}
}

// downloaded waits for a file that the tab saves, and returns its text.
func (tb *tab) downloaded(file string) string {
	tb.t.Helper()
	var text []byte
	if !tb.until(func() bool {
		var err error
		text, err = os.ReadFile(file)
		return err == nil && len(text) > 0
	}) {
		tb.t.Fatalf("%s has not been saved", filepath.Base(file))
	}
	return string(text)
}

func (tb *tab) upload(file string) {
	tb.t.Helper()
	tb.do(chromedp.SetUploadFiles(chromedp.CSS(`[data-part="import"]`), []string{file}))
}

// TestImportReports reads files with something wrong in them over a record.
func TestImportReports(t *testing.T) {
	tb := open(t)
	tb.touch()
	fillPond(tb)
	before := tb.kept()
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
		tb.record()
		tb.upload(file)
		tb.says(`[data-part="said"]`, c.says)
		if tb.kept() != before {
			t.Fatalf("the file %s has changed what is kept", c.text)
		}
	}

	file := filepath.Join(folder, "b.json")
	if err := os.WriteFile(file, []byte(`{"pond record":1,"facts":{"volume":"777 L","fish":7,"kh-kit":"scottish","moat-depth":"1 m"}}`), 0o644); err != nil {
		t.Fatal(err)
	}
	tb.record()
	tb.upload(file)
	for _, want := range []string{"1 fact.", "fish: is not text", "kh-kit: “scottish” is none of caco3, german", "moat-depth"} {
		tb.says(`[data-part="said"]`, want)
	}
	if got := facts(t, tb.kept()); !maps.Equal(got, map[string]string{"volume": "777 L"}) {
		t.Errorf("taken is %v", got)
	}
	tb.press("back")
	if tb.kept() != before {
		t.Error("what the file replaced does not come back")
	}
}

// TestRecordLink opens the link in a fresh profile, and in one that has another
// record.
func TestRecordLink(t *testing.T) {
	tb := open(t)
	tb.touch()
	fillPond(tb)
	tb.record()
	tb.await(`document.querySelector("[data-part=link]").value !== ""`, "there is no link")
	link := evaluate[string](tb, `document.querySelector("[data-part=link]").value`)
	before := tb.kept()

	fresh := open(t)
	fresh.touch()
	fresh.do(chromedp.Navigate(link))
	fresh.says(`[data-part="said"]`, "Taken from the link")
	if fresh.kept() != before {
		t.Errorf("in a fresh profile the link brings %s; want %s", fresh.kept(), before)
	}
	if hash := evaluate[string](fresh, `location.hash`); hash != "" {
		t.Errorf("the address still carries %q", hash)
	}
	for _, url := range fresh.asked() {
		if strings.Contains(strings.TrimPrefix(url, link[:strings.IndexByte(link, '#')]), "=") {
			t.Errorf("the record went to the server: %s", url)
		}
	}

	other := open(t)
	other.touch()
	other.reckon("nitrite")
	other.write("nitrite", "volume", "1000")
	own := other.kept()
	other.do(chromedp.Navigate(link))
	other.says(`[data-part="differ"]`, "1000\u00a0L2400\u00a0gal (imp)")
	other.press("mine")
	if other.kept() != own {
		t.Error("the record was replaced although the reader left it")
	}
	other.do(chromedp.Navigate(other.address), chromedp.Navigate(link))
	other.says(`[data-part="differ"]`, "tench")
	other.press("theirs")
	if other.kept() != before {
		t.Errorf("taken from the link is %s; want %s", other.kept(), before)
	}
	other.press("back")
	if other.kept() != own {
		t.Error("what the link replaced does not come back")
	}

	other.do(chromedp.Navigate(other.address), chromedp.Navigate(link[:len(link)-20]))
	other.says(`[data-part="said"]`, "cut short")
	if other.kept() != own {
		t.Error("half a link has changed what is kept")
	}
}
