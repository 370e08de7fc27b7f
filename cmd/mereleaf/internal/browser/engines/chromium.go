//go:build unix

package engines

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/chromedp/cdproto"
	"github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"mereleaf/cmd/mereleaf/internal/browser/browsertest"
)

// chromium speaks its own DevTools protocol.
type chromium struct {
	context.Context
	quit func()

	mu    sync.Mutex
	noted []string
}

func startChromium(ctx context.Context, folder string) (engine, error) {
	path, err := browsertest.Chromium()
	if err != nil {
		return nil, missing(err.Error())
	}
	allocator, stop := chromedp.NewExecAllocator(ctx, append(slices.Clone(chromedp.DefaultExecAllocatorOptions[:]),
		chromedp.ExecPath(path),
		chromedp.NoSandbox, // Chromium refuses its sandbox to root, as whom containers run
		chromedp.Flag("headless", os.Getenv("MERELEAF_HEADED") == ""),
		chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("lang", "en-GB"),
		chromedp.Flag("accept-lang", "en-GB"),
		chromedp.UserDataDir(filepath.Join(folder, "profile")),
		chromedp.WSURLReadTimeout(time.Hour), // ctx ends before
	)...)
	tab, cancel := chromedp.NewContext(allocator)
	c := &chromium{Context: tab, quit: func() { cancel(); stop() }}
	if err := c.connect(folder); err != nil {
		c.close()
		return nil, err
	}
	return c, nil
}

func (c *chromium) connect(folder string) error {
	if err := chromedp.Do(c, chromedp.EmulateViewport(360, 780, chromedp.EmulateMobile)); err != nil {
		return err
	}
	if err := chromedp.Listen(c, c.listen); err != nil {
		return err
	}
	if _, err := chromedp.Call(c, log.Enable, cdp.Empty{}); err != nil {
		return err
	}
	if _, err := chromedp.Call(c, runtime.Enable, cdp.Empty{}); err != nil {
		return err
	}
	if _, err := chromedp.Call(c, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: preload}); err != nil {
		return err
	}
	_, err := chromedp.Call(c, browser.SetDownloadBehavior, browser.SetDownloadBehaviorParams{
		Behavior: browser.SetDownloadBehaviorBehaviorAllow, DownloadPath: folder, BrowserContextID: chromedp.FromContext(c).BrowserContextID,
	})
	return err
}

// listen keeps what says that something is wrong.
func (c *chromium) listen(event any) {
	c.mu.Lock()
	defer c.mu.Unlock()
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		said := e.ExceptionDetails.Text
		if thrown := e.ExceptionDetails.Exception; thrown != nil {
			said += " " + string(thrown.Value) + thrown.Description
		}
		c.noted = append(c.noted, "javascript error: "+said)
	case *runtime.EventConsoleAPICalled:
		if e.Type == runtime.ConsoleAPICalledTypeError || e.Type == runtime.ConsoleAPICalledTypeWarning {
			said := []string{"console", string(e.Type) + ":"}
			for _, a := range e.Args {
				said = append(said, string(a.Value)+a.Description)
			}
			c.noted = append(c.noted, strings.Join(said, " "))
		}
	case *log.EventEntryAdded:
		if e.Entry.Level == log.EntryLevelError || e.Entry.Level == log.EntryLevelWarning {
			c.noted = append(c.noted, "log "+string(e.Entry.Level)+": "+e.Entry.Text+" "+e.Entry.URL)
		}
	}
}

func (c *chromium) visit(address string) error {
	return chromedp.Do(c, chromedp.Navigate(address))
}

func (c *chromium) evaluate(body string) (string, error) {
	text, err := chromedp.Run(c, chromedp.Evaluate[string]("(async () => {"+body+"\n})()", chromedp.EvalAwaitPromise))
	if left := (*cdproto.Error)(nil); errors.As(err, &left) {
		err = fmt.Errorf("%w: %w", errScript, err)
	}
	return text, err
}

func (c *chromium) click(x, y int) error {
	return chromedp.Do(c, chromedp.MouseClickXY(float64(x), float64(y)))
}

func (c *chromium) press(keys string) error { return chromedp.Do(c, chromedp.KeyEvent(keys)) }

func (c *chromium) faults() []string {
	c.mu.Lock()
	defer c.mu.Unlock()
	noted := c.noted
	c.noted = nil
	return noted
}

func (c *chromium) close() { c.quit() }
