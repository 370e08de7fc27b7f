//go:build unix

package engines

import (
	"encoding/json"
	"errors"
	"fmt"
)

// engine is a running browser with one window. None of its methods waits longer than
// the context given to start allows.
type engine interface {
	// visit opens an address, and returns when the page has been loaded.
	visit(address string) error
	// evaluate runs the body of an async function in the open page, and returns what
	// that returns, which is text.
	evaluate(body string) (string, error)
	// click presses and releases the mouse at a point of the window, in CSS pixels.
	click(x, y int) error
	// press presses one key after another.
	press(keys string) error
	// faults returns the errors and warnings that the console has shown since the last
	// call, those of scripts included.
	faults() []string
	// close ends the browser, and takes away what it has stored.
	close()
}

// missing is an error of start: the machine has no such browser.
type missing string

func (m missing) Error() string { return string(m) }

// source is an input device and what is done with it, one step after another.
// See https://www.w3.org/TR/webdriver2/#actions.
type source struct {
	Type    string `json:"type"`
	ID      string `json:"id"`
	Actions []step `json:"actions"`
}

type step struct {
	Type   string `json:"type"`
	Value  string `json:"value,omitempty"`
	X      int    `json:"x"`
	Y      int    `json:"y"`
	Button int    `json:"button"`
}

func clicking(x, y int) []source {
	return []source{{Type: "pointer", ID: "mouse", Actions: []step{
		{Type: "pointerMove", X: x, Y: y}, {Type: "pointerDown"}, {Type: "pointerUp"},
	}}}
}

func pressing(keys string) []source {
	s := source{Type: "key", ID: "keyboard"}
	for _, r := range keys {
		s.Actions = append(s.Actions, step{Type: "keyDown", Value: string(r)}, step{Type: "keyUp", Value: string(r)})
	}
	return []source{s}
}

// preload is a script that must run before those of every page. A timer of a second
// or more, which in the handbook is always a limit of patience (a store that does not
// answer, a file to be tried again), does not run: such a limit says nothing on a
// machine that is busy with other things. And a page that is left gives up what is
// still on its way, which is no fault.
const preload = `(() => {
	const start = window.setTimeout
	window.setTimeout = (act, ms = 0, ...all) => ms < 1000 ? start(act, ms, ...all) : 0
	addEventListener("beforeunload", () => { console.error = console.warn = () => {} })
})();`

// errScript is what a script threw. The page may have been on its way to another one.
var errScript = errors.New("the script failed")

// evaluated reads an answer of evaluate into a value.
func evaluated[T any](e engine, expression string) (T, error) {
	var v T
	text, err := e.evaluate("return JSON.stringify(await (" + expression + "))")
	if err != nil {
		return v, err
	}
	if err := json.Unmarshal([]byte(text), &v); err != nil {
		return v, fmt.Errorf("%w: %s is %q: %w", errScript, expression, text, err)
	}
	return v, nil
}
