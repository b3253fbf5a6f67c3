package page

import (
	"bytes"
	"net"
	"net/http"
	"path"
	"strings"
	"time"
)

// Policy is the page's Content-Security-Policy: its own files only, and the
// compiled program.
const Policy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; worker-src 'self'; style-src 'self'; " +
	"img-src 'self' blob: data:; media-src blob:; connect-src 'self'; manifest-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// types by ending; a file of another kind is not served.
var types = map[string]string{
	".html": "text/html; charset=utf-8", ".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8",
	".json": "application/json", ".svg": "image/svg+xml", ".png": "image/png", ".webmanifest": "application/manifest+json",
	".gz": "application/octet-stream", ".jpg": "image/jpeg",
}

// Handler serves the files of the site and nothing else. hosts are the names,
// without port, by which the server may be called: a page of another site that
// had its own name point here (DNS rebinding) is turned away.
func Handler(files map[string][]byte, hosts []string) http.Handler {
	allowed := map[string]bool{}
	for _, h := range hosts {
		allowed[strings.ToLower(h)] = true
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !allowed[hostName(r.Host)] {
			http.Error(w, "this server is not called by that name", http.StatusMisdirectedRequest)
			return
		}
		if r.Method != http.MethodGet && r.Method != http.MethodHead {
			w.Header().Set("Allow", "GET, HEAD")
			http.Error(w, "only files are served here", http.StatusMethodNotAllowed)
			return
		}
		name := strings.TrimPrefix(r.URL.Path, "/")
		if name == "" {
			name = "index.html"
		}
		data, ok := files[name]
		kind := types[path.Ext(name)]
		if !ok || kind == "" {
			http.Error(w, "there is no such file", http.StatusNotFound)
			return
		}
		h := w.Header()
		h.Set("Content-Type", kind)
		h.Set("Content-Security-Policy", Policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cache-Control", "no-cache")
		http.ServeContent(w, r, name, time.Time{}, bytes.NewReader(data))
	})
}

// hostName is a Host header without its port, in lower case.
func hostName(host string) string {
	if name, _, err := net.SplitHostPort(host); err == nil {
		host = name
	}
	return strings.ToLower(strings.Trim(host, "[]"))
}
