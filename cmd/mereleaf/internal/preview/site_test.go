package preview

import (
	"bufio"
	"context"
	"errors"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"

	"mereleaf/cmd/mereleaf/internal/build"
)

func shelf(body string) snapshot {
	page := []byte("<html><head><title>Ammonia</title></head><body>" + body + "</body></html>")
	return snapshot{
		pages: build.Leaves{"index.html": {Bytes: page}, "water/ammonia.html": {Bytes: page}},
		files: map[string][]byte{"assets/reckon-1a2b.wasm": []byte("\x00asm")},
	}
}

// server serves a site until the test ends, and checks that it leaves nothing.
func server(t *testing.T, s *site) string {
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	running := serve(s, listener)
	t.Cleanup(func() {
		running.close()
		http.DefaultClient.CloseIdleConnections()
		nothingLeft(t)
	})
	return "http://" + listener.Addr().String()
}

func get(t *testing.T, address string) (status int, kind, body string) {
	t.Helper()
	r, err := http.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	b, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return r.StatusCode, r.Header.Get("Content-Type"), string(b)
}

func TestSiteServes(t *testing.T) {
	s := newSite()
	s.publish(shelf("text"))
	address := server(t, s)
	for _, test := range []struct {
		path   string
		status int
		kind   string
		holds  string
	}{
		{"/", 200, "text/html", `<script src="/~preview/live.js?digest=`},
		{"/water/ammonia.html", 200, "text/html", "text</body>"},
		{"/assets/reckon-1a2b.wasm", 200, "application/wasm", "\x00asm"},
		{"/water/none.html", 404, "text/html", "There is no page water/none.html"},
		{"/../../etc/passwd", 404, "text/html", "There is no page"},
		{"/~preview/live.js", 200, "text/javascript", "EventSource"},
		{"/~preview/live.css", 200, "text/css", ".preview-faults"},
	} {
		status, kind, body := get(t, address+test.path)
		if status != test.status || !strings.HasPrefix(kind, test.kind) || !strings.Contains(body, test.holds) {
			t.Errorf("%s: %d %s %.200q; want %d %s with %q", test.path, status, kind, body, test.status, test.kind, test.holds)
		}
	}
}

// TestSiteKeepsToThePolicy: a page forbids scripts and styles in its text, so
// nothing of that kind may be added to it.
func TestSiteKeepsToThePolicy(t *testing.T) {
	page := string(withLive(shelf("").pages["index.html"].Bytes, "index.html", "1a2b"))
	if strings.Count(page, "<script") != 1 || strings.Contains(page, "<style") || strings.Contains(page, "style=") || !strings.Contains(page, "defer></script></head>") {
		t.Errorf("page is %s", page)
	}
}

// stream opens the events of a page and returns a function that reads the next
// event as "name: data".
func stream(t *testing.T, address, page string) func() string {
	t.Helper()
	ctx, stop := context.WithCancel(t.Context())
	r, err := http.NewRequestWithContext(ctx, http.MethodGet, address+reserved+"events?page="+page, nil)
	if err != nil {
		t.Fatal(err)
	}
	response, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { stop(); response.Body.Close() })
	lines := bufio.NewScanner(response.Body)
	return func() string {
		name, data := "", []string{}
		for lines.Scan() {
			field, value, _ := strings.Cut(lines.Text(), ":")
			switch field {
			case "event":
				name = strings.TrimSpace(value)
			case "data":
				data = append(data, strings.TrimSpace(value))
			case "":
				if name != "" {
					return name + ": " + strings.Join(data, "|")
				}
			}
		}
		t.Fatalf("the stream ended: %v", lines.Err())
		return ""
	}
}

func TestEventsTellOfBuildsAndFaults(t *testing.T) {
	s := newSite()
	before, after := shelf("before"), shelf("after")
	s.publish(before)
	next := stream(t, server(t, s), "water/ammonia.html")
	expect := func(want string) {
		t.Helper()
		if got := next(); got != want {
			t.Errorf("event %q, want %q", got, want)
		}
	}
	expect("faults: ")
	expect("page: " + digest(before.pages["water/ammonia.html"].Bytes))
	s.blame([]string{"content/water/10-a.md:3:1: one fault", "content/water/10-a.md:9:2: another"})
	expect("faults: content/water/10-a.md:3:1: one fault|content/water/10-a.md:9:2: another")
	expect("page: " + digest(before.pages["water/ammonia.html"].Bytes)) // the last good one stays
	s.publish(after)
	expect("faults: ")
	expect("page: " + digest(after.pages["water/ammonia.html"].Bytes))
}

// TestSiteBeforeTheFirstBuild: without any page, the faults are the page.
func TestSiteBeforeTheFirstBuild(t *testing.T) {
	s := newSite()
	s.blame([]string{"content/terms.md:3:1: <b> is raw HTML"})
	status, _, body := get(t, server(t, s)+"/water/")
	if status != http.StatusServiceUnavailable || !strings.Contains(body, "content/terms.md:3:1: &lt;b&gt; is raw HTML") || !strings.Contains(body, "live.js") {
		t.Errorf("%d %s", status, body)
	}
}

func TestListenSaysThatAPortIsTaken(t *testing.T) {
	first, err := listen(t.Context(), 0)
	if err != nil {
		t.Fatal(err)
	}
	defer first.Close()
	_, err = listen(t.Context(), first.Addr().(*net.TCPAddr).Port)
	if err == nil || !strings.Contains(err.Error(), "cannot be used") || !strings.Contains(err.Error(), "--port") || strings.Contains(err.Error(), "\n") {
		t.Errorf("error %v", err)
	}
}

// The page of the whole handbook is made of the pages that are served, when it
// is asked for; a fault is shown in its place.
func TestSitePrints(t *testing.T) {
	s := newSite()
	now := shelf("text")
	now.paper = func(leaf func(path string) []byte) (map[string][]byte, error) {
		return map[string][]byte{"print.html": append([]byte("whole: "), leaf("water/ammonia.html")...), "print.css": []byte("p{}")}, nil
	}
	s.publish(now)
	address := server(t, s)
	if status, _, body := get(t, address+"/print.html"); status != 200 || !strings.HasPrefix(body, "whole: <html>") {
		t.Error(status, body)
	}
	if status, kind, body := get(t, address+"/print.css"); status != 200 || !strings.HasPrefix(kind, "text/css") || body != "p{}" {
		t.Error(status, kind, body)
	}
	now.paper = func(func(path string) []byte) (map[string][]byte, error) {
		return nil, errors.New("water/x.html: is broken")
	}
	s.publish(now)
	if status, _, body := get(t, address+"/print.html"); status != 500 || !strings.Contains(body, "is broken") {
		t.Error(status, body)
	}
}
