package browsertest

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"example.org/evenlot/wasm/build/site"
	"github.com/chromedp/chromedp"
)

// folder is where the site stands on the test's server: any folder will do.
const folder = "/some/folder/"

var (
	files   map[string][]byte // the site, by path
	home    *host             // serves it to every test that does not stop it; no page of it is kept for use offline
	browser context.Context   // one Chromium for all tests
	outside proxy             // where requests to anywhere else end up
)

func TestMain(m *testing.M) {
	code, err := run(m)
	if err != nil {
		fmt.Fprintln(os.Stderr, "browsertest:", err)
		os.Exit(1)
	}
	os.Exit(code)
}

func run(m *testing.M) (int, error) {
	bin, err := chromium()
	if err != nil {
		return 0, err
	}
	root, err := filepath.Abs(filepath.Join("..", ".."))
	if err != nil {
		return 0, err
	}
	if files, err = site.Build(root); err != nil {
		return 0, err
	}
	home = serve(folder)
	defer home.Close()
	elsewhere := httptest.NewServer(&outside)
	defer elsewhere.Close()

	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(bin), chromedp.DisableGPU,
		chromedp.Flag("lang", "en-US"),
		chromedp.Flag("disable-quic", true),
		chromedp.Flag("disable-component-update", true),
		chromedp.Flag("disable-domain-reliability", true),
		chromedp.Flag("disable-features", "Translate,AutofillServerCommunication,OptimizationHints,OptimizationGuideModelDownloading,MediaRouter"),
		chromedp.Flag("no-pings", true),
		chromedp.Flag("proxy-server", elsewhere.URL))
	if os.Geteuid() == 0 {
		options = append(options, chromedp.NoSandbox)
	}
	allocator, stop := chromedp.NewExecAllocator(context.Background(), options...)
	defer stop()
	var quit context.CancelFunc
	browser, quit = chromedp.NewContext(allocator)
	defer quit()
	if err := chromedp.Do(browser); err != nil {
		return 0, fmt.Errorf("starting %s: %w", bin, err)
	}
	// Most of a test is waiting for the browser: four of them keep two cores busy.
	flag.Parse()
	chosen := false
	flag.Visit(func(f *flag.Flag) { chosen = chosen || f.Name == "test.parallel" })
	if !chosen {
		if err := flag.Set("test.parallel", "4"); err != nil {
			return 0, err
		}
	}
	code := m.Run()
	for _, name := range home.missed() {
		fmt.Fprintf(os.Stderr, "browsertest: the page asked for %s, which the site does not hold\n", name)
		code = 1
	}
	return code, nil
}

func chromium() (string, error) {
	for _, name := range []string{"chromium", "chromium-browser"} {
		if bin, err := exec.LookPath(name); err == nil {
			return bin, nil
		}
	}
	return "", errors.New("these tests need Chromium and it is not on the path; on Debian: apt-get install chromium")
}

// need finds a program or fails the test with a word on how to get it.
func need(t testing.TB, program, debian string) string {
	t.Helper()
	bin, err := exec.LookPath(program)
	if err != nil {
		t.Fatalf("this test needs %s and it is not on the path; on Debian: apt-get install %s", program, debian)
	}
	return bin
}

// A host serves the site from a folder and remembers what was asked of it.
type host struct {
	*httptest.Server
	folder  string
	encoded bool // says of a compressed copy that it is an encoding
	plain   bool // knows no media type for WebAssembly
	files   map[string][]byte
	mu      sync.Mutex
	count   int
	lost    []string
	names   map[string]bool // Host headers seen
}

func serve(folder string) *host {
	h := &host{folder: folder, files: files, names: map[string]bool{}}
	h.Server = httptest.NewServer(h)
	return h
}

// base is the address of the site's first page.
func (h *host) base() string { return h.URL + h.folder }

// publish puts another build of the site in the place of this one.
func (h *host) publish(files map[string][]byte) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.files = files
}

func (h *host) requests() int {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.count
}

func (h *host) missed() []string {
	h.mu.Lock()
	defer h.mu.Unlock()
	return append([]string(nil), h.lost...)
}

// forgive forgets a request for what is not there that a test made itself.
func (h *host) forgive(name string) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.lost = slices.DeleteFunc(h.lost, func(s string) bool { return strings.HasSuffix(s, "/"+name) })
}

// kinds are the media types that any static server knows.
var kinds = map[string]string{
	".html": "text/html; charset=utf-8", ".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".json": "application/json",
	".svg": "image/svg+xml", ".png": "image/png", ".wasm": "application/wasm", ".webmanifest": "application/manifest+json", ".txt": "text/plain; charset=utf-8",
	".ts": "text/plain; charset=utf-8", ".gz": "application/gzip",
}

func (h *host) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	name, inside := strings.CutPrefix(r.URL.Path, h.folder)
	if name == "" || strings.HasSuffix(name, "/") {
		name += "index.html"
	}
	h.mu.Lock()
	b, ok := h.files[name]
	h.count++
	h.names[r.Host] = true
	if !inside || !ok {
		h.lost = append(h.lost, r.Method+" "+r.URL.Path)
	}
	h.mu.Unlock()
	kind := kinds[path.Ext(name)]
	if !inside || !ok || kind == "" {
		http.Error(w, "there is no "+r.URL.Path, http.StatusNotFound)
		return
	}
	if h.encoded && path.Ext(name) == ".gz" {
		w.Header().Set("Content-Encoding", "gzip")
		kind = "application/wasm"
	}
	if h.plain && strings.Contains(name, ".wasm") {
		kind = "application/octet-stream"
	}
	w.Header().Set("Content-Type", kind)
	w.Header().Set("X-Content-Type-Options", "nosniff")
	if _, err := w.Write(b); err != nil {
		return // the browser went away
	}
}

// A proxy stands for all the world but this computer: it lets nothing
// through and remembers what was tried.
type proxy struct {
	mu    sync.Mutex
	tried []string
}

func (p *proxy) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	p.mu.Lock()
	p.tried = append(p.tried, r.Method+" "+r.Host)
	p.mu.Unlock()
	http.Error(w, "nothing leaves", http.StatusForbidden)
}

func (p *proxy) attempts() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return append([]string(nil), p.tried...)
}
