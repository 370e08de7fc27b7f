package preview

import (
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
)

// ask sends a request with a host and headers to a site, and returns the answer
// with its text.
func ask(t *testing.T, method, address, host string, headers map[string]string) (*http.Response, string) {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), method, address, nil)
	if err != nil {
		t.Fatal(err)
	}
	r.Host = host
	for name, value := range headers {
		r.Header.Set(name, value)
	}
	response, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer response.Body.Close()
	if strings.HasPrefix(response.Header.Get("Content-Type"), "text/event-stream") {
		return response, "" // it does not end
	}
	text, err := io.ReadAll(response.Body)
	if err != nil {
		t.Fatal(err)
	}
	return response, string(text)
}

// secret is what no other site may see.
const secret = "not yet for everybody"

// guarded serves a page with the secret.
func guarded(t *testing.T) (address, port string) {
	t.Helper()
	s := newSite()
	s.publish(shelf(secret))
	address = server(t, s)
	_, port, err := net.SplitHostPort(strings.TrimPrefix(address, "http://"))
	if err != nil {
		t.Fatal(err)
	}
	return address, port
}

// TestPreviewAnswersThisComputerOnly: who asks for another name, as a page does
// whose own name was made to lead here (DNS rebinding), gets one line and no page.
func TestPreviewAnswersThisComputerOnly(t *testing.T) {
	address, port := guarded(t)
	paths := []string{"/", "/water/ammonia.html", "/water/none.html", "/assets/reckon-1a2b.wasm", reserved + "live.js", reserved + "events?page=index.html"}
	for _, path := range paths {
		for _, host := range []string{"localhost:" + port, "LOCALHOST:" + port, "127.0.0.1:" + port, "[::1]:" + port} {
			if r, text := ask(t, http.MethodGet, address+path, host, nil); r.StatusCode == http.StatusForbidden {
				t.Errorf("%s of %s is refused: %s", path, host, text)
			}
		}
		for _, host := range []string{
			"pond.example", "pond.example:" + port, "localhost", "127.0.0.1", "127.0.0.1:1", "localhost:", "localhost.pond.example:" + port,
			"127.0.0.1.pond.example:" + port, "127.0.0.2:" + port, "0.0.0.0:" + port, "[::]:" + port, "192.168.1.7:" + port, "user@localhost:" + port,
		} {
			r, text := ask(t, http.MethodGet, address+path, host, nil)
			if r.StatusCode != http.StatusForbidden && r.StatusCode != http.StatusBadRequest || strings.Contains(text, secret) || strings.Count(text, "\n") > 1 {
				t.Errorf("%s of %s: %d %q", path, host, r.StatusCode, text)
			}
			if r.StatusCode == http.StatusForbidden && !strings.Contains(text, "; open http://127.0.0.1:"+port+"/") {
				t.Errorf("%s of %s: %q does not say what to do", path, host, text)
			}
		}
	}
}

// TestPreviewAnswersNoOtherSite: a page of another origin, one of another port of
// this computer too, can load nothing and hear no events.
func TestPreviewAnswersNoOtherSite(t *testing.T) {
	address, port := guarded(t)
	here := "127.0.0.1:" + port
	for _, c := range []struct {
		name    string
		headers map[string]string
		let     bool
	}{
		{"its own page", map[string]string{"Sec-Fetch-Site": "same-origin", "Sec-Fetch-Mode": "cors", "Sec-Fetch-Dest": "empty"}, true},
		{"its own page, with its origin", map[string]string{"Origin": "http://" + here, "Sec-Fetch-Site": "same-origin"}, true},
		{"an address typed in", map[string]string{"Sec-Fetch-Site": "none", "Sec-Fetch-Mode": "navigate", "Sec-Fetch-Dest": "document"}, true},
		{"a link followed", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate", "Sec-Fetch-Dest": "document"}, true},
		{"a program", nil, true},
		{"a script", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "no-cors", "Sec-Fetch-Dest": "script"}, false},
		{"a frame", map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate", "Sec-Fetch-Dest": "iframe"}, false},
		{"another port", map[string]string{"Sec-Fetch-Site": "same-site", "Sec-Fetch-Mode": "cors", "Sec-Fetch-Dest": "empty"}, false},
		{"another site's fetch", map[string]string{"Origin": "https://pond.example"}, false},
		{"another port's fetch", map[string]string{"Origin": "http://localhost:1"}, false},
		{"another name's fetch", map[string]string{"Origin": "http://localhost:" + port}, false},
		{"a file's fetch", map[string]string{"Origin": "null"}, false},
	} {
		for _, path := range []string{"/", reserved + "events?page=index.html"} {
			r, text := ask(t, http.MethodGet, address+path, here, c.headers)
			if let := r.StatusCode == http.StatusOK; let != c.let || !let && (r.StatusCode != http.StatusForbidden || strings.Contains(text, secret) || strings.Count(text, "\n") != 1) {
				t.Errorf("%s: %s answers %d %q", c.name, path, r.StatusCode, text)
			}
			for name := range r.Header {
				if strings.HasPrefix(name, "Access-Control-") {
					t.Errorf("%s: %s answers with %s", c.name, path, name)
				}
			}
			for name, want := range map[string]string{"Cross-Origin-Resource-Policy": "same-origin", "Content-Security-Policy": "frame-ancestors 'self'"} {
				if got := r.Header.Get(name); got != want {
					t.Errorf("%s: %s answers with %s %q", c.name, path, name, got)
				}
			}
		}
	}
}

// TestPreviewChangesNothing: it reads, and answers no other method.
func TestPreviewChangesNothing(t *testing.T) {
	address, port := guarded(t)
	for _, method := range []string{http.MethodPost, http.MethodPut, http.MethodPatch, http.MethodDelete, http.MethodOptions} {
		for _, path := range []string{"/", "/water/ammonia.html", reserved + "events", reserved + "live.js"} {
			if r, text := ask(t, method, address+path, "127.0.0.1:"+port, nil); r.StatusCode != http.StatusMethodNotAllowed || strings.Contains(text, secret) {
				t.Errorf("%s %s: %d %q", method, path, r.StatusCode, text)
			}
		}
	}
}

// TestListenerIsThisComputersOwn: no other computer can connect.
func TestListenerIsThisComputersOwn(t *testing.T) {
	l, err := listen(t.Context(), 0)
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	if a, ok := l.Addr().(*net.TCPAddr); !ok || !a.IP.IsLoopback() {
		t.Errorf("it listens on %v", l.Addr())
	}
}
