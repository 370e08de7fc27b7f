//go:build unix

package engines

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// webkit speaks WebDriver, https://www.w3.org/TR/webdriver2/, to a driver that starts
// the browser. Both draw to a screen that nobody sees.
type webkit struct {
	ctx            context.Context
	screen, driver *process
	address        string // of the driver, then of the session
}

func startWebKit(ctx context.Context, folder string) (engine, error) {
	for _, name := range []string{"WebKitWebDriver", "Xvfb"} {
		if _, err := exec.LookPath(name); err != nil {
			return nil, missing("no " + name + " in PATH; install the packages webkit2gtk-driver and xvfb")
		}
	}
	browsers, err := filepath.Glob("/usr/lib/*/webkit2gtk-4.*/MiniBrowser")
	if err != nil || len(browsers) == 0 {
		return nil, missing("no MiniBrowser of WebKitGTK below /usr/lib; install the package webkit2gtk-driver")
	}
	w := &webkit{ctx: ctx}
	if err := w.start(folder, browsers[len(browsers)-1]); err != nil {
		w.close()
		return nil, err
	}
	return w, nil
}

func (w *webkit) start(folder, browser string) error {
	var err error
	// The file descriptor is that of its own output, where it says which screen was free.
	if w.screen, err = run(nil, "Xvfb", "-displayfd", "1", "-screen", "0", "800x1000x24", "-nolisten", "tcp"); err != nil {
		return err
	}
	display := ""
	if err := w.screen.await(w.ctx, func(line string) bool {
		_, err := strconv.Atoi(line)
		display = ":" + line
		return err == nil
	}); err != nil {
		return err
	}
	free, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return err
	}
	host, port, _ := net.SplitHostPort(free.Addr().String())
	free.Close()
	environment := []string{
		"DISPLAY=" + display, "HOME=" + folder, "XDG_CONFIG_HOME=" + folder, "XDG_CACHE_HOME=" + folder, "XDG_DATA_HOME=" + folder,
		"GDK_BACKEND=x11", "NO_AT_BRIDGE=1", "GIO_USE_VFS=local", "GIO_USE_PROXY_RESOLVER=dummy",
		// There is no graphics card.
		"LIBGL_ALWAYS_SOFTWARE=1", "WEBKIT_DISABLE_COMPOSITING_MODE=1", "WEBKIT_DISABLE_DMABUF_RENDERER=1",
	}
	if w.driver, err = run(environment, "WebKitWebDriver", "--host="+host, "--port="+port); err != nil {
		return err
	}
	w.address = "http://" + net.JoinHostPort(host, port)
	return w.connect(browser)
}

// connect begins a session as soon as the driver listens.
func (w *webkit) connect(browser string) error {
	type object map[string]any
	for ready := false; !ready; {
		var status struct{ Ready bool }
		select {
		case <-w.driver.ended:
			return fmt.Errorf("WebKitWebDriver has ended: %q", w.driver.said())
		case <-w.ctx.Done():
			return fmt.Errorf("WebKitWebDriver does not get ready: %q: %w", w.driver.said(), w.ctx.Err())
		case <-time.After(10 * time.Millisecond):
			ready = w.command(http.MethodGet, "/status", nil, &status) == nil && status.Ready
		}
	}
	var session struct{ SessionID string }
	if err := w.command(http.MethodPost, "/session", object{"capabilities": object{"alwaysMatch": object{
		"webkitgtk:browserOptions": object{"binary": browser, "args": []string{"--automation"}},
	}}}, &session); err != nil {
		return err
	}
	w.address += "/session/" + session.SessionID
	const long = 3_600_000 // ms; the test's own deadline comes first
	if err := w.command(http.MethodPost, "/timeouts", object{"script": long, "pageLoad": long}, nil); err != nil {
		return err
	}
	// The window itself does not get narrower than its buttons, some 450 px.
	return w.command(http.MethodPost, "/window/rect", object{"width": 360, "height": 860}, nil)
}

// command asks the driver. A script that failed is an errScript.
func (w *webkit) command(method, path string, params, result any) error {
	var body io.Reader
	if params != nil {
		text, err := json.Marshal(params)
		if err != nil {
			return err
		}
		body = bytes.NewReader(text)
	}
	request, err := http.NewRequestWithContext(w.ctx, method, w.address+path, body)
	if err != nil {
		return err
	}
	response, err := http.DefaultClient.Do(request)
	if err != nil {
		return err
	}
	defer response.Body.Close()
	var answer struct{ Value json.RawMessage }
	if err := json.NewDecoder(response.Body).Decode(&answer); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	if response.StatusCode != http.StatusOK {
		var refused struct{ Error, Message string }
		if err := json.Unmarshal(answer.Value, &refused); err != nil {
			return fmt.Errorf("%s: %s: %w", path, response.Status, err)
		}
		if strings.HasPrefix(path, "/execute") {
			return fmt.Errorf("%w: %s: %s", errScript, refused.Error, refused.Message)
		}
		return fmt.Errorf("%s: %s: %s", path, refused.Error, refused.Message)
	}
	if result == nil {
		return nil
	}
	return json.Unmarshal(answer.Value, result)
}

func (w *webkit) visit(address string) error {
	if err := w.command(http.MethodPost, "/url", map[string]any{"url": address}, nil); err != nil {
		return err
	}
	// A page of a file, or one that the worker has kept, did not begin with it: there it
	// hears what comes after the page has been loaded.
	_, err := w.evaluate(watch + `
		return ""`)
	return err
}

func (w *webkit) evaluate(body string) (string, error) {
	var text string
	err := w.command(http.MethodPost, "/execute/sync", map[string]any{
		"script": "return (async () => {" + body + "\n})()",
		"args":   []any{},
	}, &text)
	return text, err
}

func (w *webkit) click(x, y int) error { return w.perform(clicking(x, y)) }

func (w *webkit) press(keys string) error { return w.perform(pressing(keys)) }

func (w *webkit) perform(actions []source) error {
	return w.command(http.MethodPost, "/actions", map[string]any{"actions": actions}, nil)
}

// faults asks the page, for the driver has no word of the console: see watch.
func (w *webkit) faults() []string {
	noted, err := evaluated[[]string](w, `(() => {
		const noted = JSON.parse(sessionStorage.getItem("console") ?? "[]")
		sessionStorage.removeItem("console")
		return noted
	})()`)
	if err != nil {
		return []string{err.Error()}
	}
	return noted
}

// watch is a script that the pages for an engine without a console must begin with:
// it keeps what the console shows where faults finds it, on whatever page of the site
// that is. WebKitGTK prints nothing of its console while it is driven, and its driver
// has no script that runs before those of a page.
const watch = preload + `
(() => {
	if (console.watched) return
	console.watched = true
	let left = false
	addEventListener("beforeunload", () => { left = true })
	const note = (what) => left || sessionStorage.setItem("console", JSON.stringify([...JSON.parse(sessionStorage.getItem("console") ?? "[]"), what]))
	for (const level of ["error", "warn"]) {
		const say = console[level]
		console[level] = (...all) => (note("console " + level + ": " + all.join(" ")), say.apply(console, all))
	}
	addEventListener("error", (e) => note("error: " + (e.message ?? "cannot load " + (e.target.src ?? e.target.href))), true)
	addEventListener("unhandledrejection", (e) => note("unhandled: " + e.reason))
	addEventListener("securitypolicyviolation", (e) => note("refused by the policy: " + e.violatedDirective + " " + e.blockedURI))
})()`

func (w *webkit) close() {
	for _, p := range []*process{w.driver, w.screen} {
		if p != nil {
			p.close()
		}
	}
}
