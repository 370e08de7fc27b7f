//go:build unix

package engines

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"

	"github.com/coder/websocket"
	"github.com/coder/websocket/wsjson"
)

// firefox speaks WebDriver BiDi, https://www.w3.org/TR/webdriver-bidi/, to the
// browser itself.
type firefox struct {
	ctx     context.Context
	process *process
	socket  *websocket.Conn
	tab     string // the identifier of its browsing context

	mu      sync.Mutex
	last    int                  // the number of the last command
	waiting map[int]chan message // for the answer to a command
	lost    error                // why there will be no more answers
	noted   []string
}

// message is what comes from Firefox: the answer to a command, or an event.
type message struct {
	Type    string          `json:"type"`
	ID      int             `json:"id"`
	Result  json.RawMessage `json:"result"`
	Error   string          `json:"error"`
	Message string          `json:"message"`
	Method  string          `json:"method"`
	Params  json.RawMessage `json:"params"`
}

// preferences keep Firefox from asking for anything outside, and give it the language
// of a region of metric measures.
const preferences = `
user_pref("app.normandy.enabled", false);
user_pref("app.update.disabledForTesting", true);
user_pref("browser.aboutwelcome.enabled", false);
user_pref("browser.contentblocking.introCount", 99);
user_pref("browser.download.dir", %[1]q);
user_pref("browser.download.folderList", 2);
user_pref("browser.download.panel.shown", true);
user_pref("browser.newtabpage.enabled", false);
user_pref("browser.safebrowsing.downloads.enabled", false);
user_pref("browser.safebrowsing.malware.enabled", false);
user_pref("browser.safebrowsing.phishing.enabled", false);
user_pref("browser.shell.checkDefaultBrowser", false);
user_pref("browser.startup.page", 0);
user_pref("captivedetect.canonicalURL", "");
user_pref("datareporting.policy.dataSubmissionEnabled", false);
user_pref("dom.max_script_run_time", 0);
user_pref("extensions.update.enabled", false);
user_pref("intl.accept_languages", "en-GB");
user_pref("network.captive-portal-service.enabled", false);
user_pref("network.connectivity-service.enabled", false);
user_pref("network.proxy.type", 0);
user_pref("services.settings.server", "data:,");
user_pref("toolkit.startup.max_resumed_crashes", -1);
user_pref("toolkit.telemetry.enabled", false);
`

func startFirefox(ctx context.Context, folder string) (engine, error) {
	path := os.Getenv("MERELEAF_FIREFOX")
	if path == "" {
		var err error
		if path, err = exec.LookPath("firefox-esr"); err != nil {
			return nil, missing("no Firefox in PATH; install the package firefox-esr, or set MERELEAF_FIREFOX to its path")
		}
	}
	profile := filepath.Join(folder, "profile")
	if err := os.Mkdir(profile, 0o700); err != nil {
		return nil, err
	}
	if err := os.WriteFile(filepath.Join(profile, "user.js"), fmt.Appendf(nil, preferences, folder), 0o600); err != nil {
		return nil, err
	}
	arguments := []string{"--no-remote", "--profile", profile, "--remote-debugging-port", "0"} // a free one
	if os.Getenv("MERELEAF_HEADED") == "" {
		arguments = append(arguments, "--headless")
	}
	p, err := run([]string{"HOME=" + folder, "MOZ_CRASHREPORTER_DISABLE=1"}, path, arguments...)
	if err != nil {
		return nil, err
	}
	f := &firefox{ctx: ctx, process: p, waiting: map[int]chan message{}}
	if err := f.connect(); err != nil {
		f.close()
		return nil, err
	}
	return f, nil
}

// connect begins a session in the browser's window.
func (f *firefox) connect() error {
	address := ""
	if err := f.process.await(f.ctx, func(line string) bool {
		_, port, ok := strings.Cut(line, "WebDriver BiDi listening on ")
		address = port + "/session"
		return ok
	}); err != nil {
		return err
	}
	socket, _, err := websocket.Dial(f.ctx, address, nil)
	if err != nil {
		return err
	}
	socket.SetReadLimit(-1)
	f.socket = socket
	go f.listen()
	type object map[string]any
	if err := f.command("session.new", object{"capabilities": object{}}, nil); err != nil {
		return err
	}
	if err := f.command("script.addPreloadScript", object{"functionDeclaration": "() => {" + preload + "}"}, nil); err != nil {
		return err
	}
	if err := f.command("session.subscribe", object{"events": []string{"log.entryAdded"}}, nil); err != nil {
		return err
	}
	var tree struct {
		Contexts []struct{ Context string }
	}
	if err := f.command("browsingContext.getTree", object{"maxDepth": 0}, &tree); err != nil {
		return err
	}
	if len(tree.Contexts) == 0 {
		return errors.New("no window in Firefox")
	}
	f.tab = tree.Contexts[0].Context
	return f.command("browsingContext.setViewport", object{"context": f.tab, "viewport": object{"width": 360, "height": 780}}, nil)
}

// listen hands the messages out until the browser ends.
func (f *firefox) listen() {
	for {
		var m message
		err := wsjson.Read(f.ctx, f.socket, &m)
		f.mu.Lock()
		if err != nil {
			f.lost = err
			for _, answer := range f.waiting {
				close(answer)
			}
			f.mu.Unlock()
			return
		}
		if m.Type == "event" {
			f.note(m)
		} else if answer := f.waiting[m.ID]; answer != nil {
			delete(f.waiting, m.ID)
			answer <- m
		}
		f.mu.Unlock()
	}
}

// note keeps an entry of the console that says that something is wrong.
func (f *firefox) note(m message) {
	var entry struct {
		Level, Type, Text string
		Source            struct{ Context string }
	}
	if m.Method != "log.entryAdded" || json.Unmarshal(m.Params, &entry) != nil {
		return
	}
	if entry.Level == "error" || entry.Level == "warn" {
		f.noted = append(f.noted, entry.Type+" "+entry.Level+": "+entry.Text)
	}
}

func (f *firefox) command(method string, params, result any) error {
	answer := make(chan message, 1)
	f.mu.Lock()
	if f.lost != nil {
		f.mu.Unlock()
		return f.lost
	}
	f.last++
	id := f.last
	f.waiting[id] = answer
	f.mu.Unlock()
	if err := wsjson.Write(f.ctx, f.socket, map[string]any{"id": id, "method": method, "params": params}); err != nil {
		return fmt.Errorf("%s: %w", method, err)
	}
	m, ok := <-answer
	switch {
	case !ok:
		return fmt.Errorf("%s: %w", method, f.lost)
	case m.Type == "error":
		return fmt.Errorf("%s: %s: %s", method, m.Error, m.Message)
	case result == nil:
		return nil
	}
	return json.Unmarshal(m.Result, result)
}

func (f *firefox) visit(address string) error {
	return f.command("browsingContext.navigate", map[string]any{"context": f.tab, "url": address, "wait": "complete"}, nil)
}

func (f *firefox) evaluate(body string) (string, error) {
	var result struct {
		Type             string
		Result           struct{ Value string }
		ExceptionDetails struct{ Text string }
	}
	err := f.command("script.evaluate", map[string]any{
		"expression":   "(async () => {" + body + "\n})()",
		"target":       map[string]string{"context": f.tab},
		"awaitPromise": true,
	}, &result)
	switch {
	case err != nil && f.failed() != nil:
		return "", err
	case err != nil:
		return "", fmt.Errorf("%w: %w", errScript, err)
	case result.Type != "success":
		return "", fmt.Errorf("%w: %s", errScript, result.ExceptionDetails.Text)
	}
	return result.Result.Value, nil
}

// failed says why Firefox does not answer any more.
func (f *firefox) failed() error {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.lost
}

func (f *firefox) click(x, y int) error { return f.perform(clicking(x, y)) }

func (f *firefox) press(keys string) error { return f.perform(pressing(keys)) }

func (f *firefox) perform(actions []source) error {
	return f.command("input.performActions", map[string]any{"context": f.tab, "actions": actions}, nil)
}

func (f *firefox) faults() []string {
	f.mu.Lock()
	defer f.mu.Unlock()
	noted := f.noted
	f.noted = nil
	return noted
}

func (f *firefox) close() {
	if f.socket != nil {
		_ = f.socket.CloseNow() // the browser is ended next
	}
	f.process.close()
}
