// Command serve builds the site and serves it on this computer alone:
//
//	go run ./wasm/serve [-port 8044]
package main

import (
	"errors"
	"flag"
	"fmt"
	"mime"
	"net"
	"net/http"
	"os"
	"path"
	"strconv"
	"strings"
	"syscall"
	"time"

	"example.org/evenlot/wasm/build/site"
)

func main() {
	port := flag.Int("port", 8044, "port on 127.0.0.1; 0 takes any free one")
	flag.Parse()
	if err := run(*port); err != nil {
		fmt.Fprintln(os.Stderr, "serve:", err)
		os.Exit(1)
	}
}

func run(port int) error {
	// The port first: a taken one is told before the build makes anyone wait.
	l, err := net.Listen("tcp", net.JoinHostPort("127.0.0.1", strconv.Itoa(port)))
	switch {
	case errors.Is(err, syscall.EADDRINUSE):
		return fmt.Errorf("port %d is taken, perhaps by another window of this; choose one with -port, or -port 0 for any free one", port)
	case err != nil:
		return err
	}
	defer l.Close()
	fmt.Println("building the page and its bundle …")
	root, err := site.Root()
	if err != nil {
		return err
	}
	files, err := site.Build(root)
	if err != nil {
		return err
	}
	fmt.Printf("http://%s/ (stop with Ctrl-C)\n", l.Addr())
	s := &http.Server{Handler: handler(files), ReadHeaderTimeout: 10 * time.Second}
	return s.Serve(l)
}

// handler serves the files from memory, compressed where the browser takes it.
func handler(files map[string][]byte) http.Handler {
	small := map[string][]byte{}
	for name, b := range files {
		if z := site.Gzip(b); z != nil {
			small[name] = z
		}
	}
	types := map[string]string{".gz": "application/octet-stream", ".wasm": "application/wasm", ".js": "text/javascript; charset=utf-8", ".webmanifest": "application/manifest+json"}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		name := strings.TrimPrefix(path.Clean("/"+r.URL.Path), "/")
		if name == "" {
			name = "index.html"
		}
		b, ok := files[name]
		if !ok {
			if _, isFolder := files[name+"/index.html"]; isFolder {
				if !strings.HasSuffix(r.URL.Path, "/") {
					http.Redirect(w, r, path.Base(name)+"/", http.StatusMovedPermanently)
					return
				}
				name += "/index.html"
				b = files[name]
			} else {
				http.NotFound(w, r)
				return
			}
		}
		if r.Method != http.MethodGet && r.Method != http.MethodHead {
			http.Error(w, "only reading", http.StatusMethodNotAllowed)
			return
		}
		kind := types[path.Ext(name)]
		if kind == "" {
			kind = mime.TypeByExtension(path.Ext(name))
		}
		w.Header().Set("Content-Type", kind)
		w.Header().Set("Cache-Control", "no-cache")
		w.Header().Set("X-Content-Type-Options", "nosniff")
		if z := small[name]; z != nil && strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") {
			w.Header().Set("Content-Encoding", "gzip")
			b = z
		}
		w.Header().Set("Content-Length", strconv.Itoa(len(b)))
		if r.Method == http.MethodGet {
			if _, err := w.Write(b); err != nil {
				return // the browser went away
			}
		}
	})
}
