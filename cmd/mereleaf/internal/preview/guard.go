package preview

import (
	"net"
	"net/http"
	"strings"
)

// guard lets only this computer's own reader in, at the port that is served: a page
// of another site, open in the same browser, must not read the handbook that is
// being written.
//
// The name that is asked for keeps out a site that has its own name lead to this
// computer (DNS rebinding). Where the request comes from, as the browser says, keeps
// out pages of other origins, those of other ports of this computer included; they
// may link here, but neither load a thing nor show a page in a frame. Nothing that
// is served lets them read it (CORS), and only GET and HEAD are answered.
func guard(port string, next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Content-Security-Policy", "frame-ancestors 'self'")
		switch {
		case !own(r.Host, port):
			refuse(w, "the preview does not answer to this name; open http://127.0.0.1:"+port+"/")
		case foreign(r, port):
			refuse(w, "the preview answers no page of another site; open http://127.0.0.1:"+port+"/")
		default:
			next.ServeHTTP(w, r)
		}
	})
}

// own reports whether a host, with its port, is this computer to itself.
func own(host, port string) bool {
	name, at, err := net.SplitHostPort(host)
	if err != nil { // browsers leave out the port of HTTP
		name, at = strings.Trim(host, "[]"), "80"
	}
	return at == port && (strings.EqualFold(name, "localhost") || name == "127.0.0.1" || name == "::1")
}

// foreign reports whether a page of another origin asks. That a reader follows a
// link from there is none of it.
func foreign(r *http.Request, port string) bool {
	if origin := r.Header.Get("Origin"); origin != "" {
		host, plain := strings.CutPrefix(origin, "http://")
		return !plain || !own(host, port) || !strings.EqualFold(host, r.Host)
	}
	switch r.Header.Get("Sec-Fetch-Site") {
	case "", "same-origin", "none": // before 2023 not every browser said it
		return false
	}
	return r.Header.Get("Sec-Fetch-Mode") != "navigate" || r.Header.Get("Sec-Fetch-Dest") != "document"
}

func refuse(w http.ResponseWriter, why string) {
	w.Header().Set("Cache-Control", "no-store")
	http.Error(w, why, http.StatusForbidden)
}
