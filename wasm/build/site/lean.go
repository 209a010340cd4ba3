package site

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// lean prepares a module file with which the bundles are compiled: the decimal
// library as it is, but without fmt and reflect behind it, which it needs for
// the words of its panics, its parse errors and databases alone and which are
// a tenth of a bundle. Its arithmetic is not touched; the tests of the
// catalogue run against this copy under WebAssembly too (see ./test).
//
// The copy lies in the ignored folder dist of the checkout and is named by a
// path relative to it, since that path ends up in the bundles: two builds in two
// folders give the same bytes. lean returns the path for the go command's
// -modfile.
func lean(root string) (string, error) {
	dir := filepath.Join(root, "dist", "lean")
	cmd := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/shopspring/decimal")
	cmd.Dir = root
	out, err := cmd.Output()
	if err != nil {
		return "", fmt.Errorf("finding the decimal library: %w", err)
	}
	from, to := strings.TrimSpace(string(out)), filepath.Join(dir, "decimal")
	if err := os.MkdirAll(filepath.Join(to, "words"), 0o755); err != nil {
		return "", err
	}
	paths, err := filepath.Glob(filepath.Join(from, "*.go"))
	if err != nil {
		return "", err
	}
	done := map[string]bool{}
	for _, path := range append(paths, filepath.Join(from, "go.mod")) {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return "", err
		}
		for _, change := range changes {
			if bytes.Contains(text, []byte(change[0])) {
				done[change[0]] = true
				text = bytes.Replace(text, []byte(change[0]), []byte(change[1]), 1)
			}
		}
		if err := put(filepath.Join(to, filepath.Base(path)), text); err != nil {
			return "", err
		}
	}
	if len(done) != len(changes) {
		return "", errors.New("the decimal library is not as this build knows it: look at wasm/build/site/lean.go")
	}
	if err := put(filepath.Join(to, "words", "words.go"), []byte(standIn)); err != nil {
		return "", err
	}
	mod, err := os.ReadFile(filepath.Join(root, "go.mod"))
	if err != nil {
		return "", err
	}
	sum, err := os.ReadFile(filepath.Join(root, "go.sum"))
	if err != nil {
		return "", err
	}
	file := filepath.Join(dir, "lean.mod")
	mod = append(mod, "\nreplace github.com/shopspring/decimal => ./dist/lean/decimal\n"...)
	return file, errors.Join(put(file, mod), put(filepath.Join(dir, "lean.sum"), sum))
}

// put writes a file whole or not at all, and leaves one that is right alone:
// another build may be reading it.
func put(path string, text []byte) error {
	if old, err := os.ReadFile(path); err == nil && bytes.Equal(old, text) {
		return nil
	}
	f, err := os.CreateTemp(filepath.Dir(path), "new")
	if err != nil {
		return err
	}
	_, err = f.Write(text)
	return errors.Join(err, f.Close(), os.Rename(f.Name(), path))
}

// changes are what is replaced, once a file: the imports that serve messages
// and databases, and the quotient's road to a float, which takes fmt along;
// the digits' road is as exact.
var changes = [][2]string{
	{"\n\t\"fmt\"\n", "\n\tfmt \"github.com/shopspring/decimal/words\"\n"},
	{"\n\t\"database/sql/driver\"\n", "\n\tdriver \"github.com/shopspring/decimal/words\"\n"},
	{"return d.Rat().Float64()", "f, _ = strconv.ParseFloat(d.String(), 64)\n\treturn f, false"},
}

// standIn stands in for fmt, where a message keeps its pattern and loses its
// numbers, and for the type of a database's value.
const standIn = `// Package words stands in for fmt and database/sql/driver.
package words

import "errors"

type Value interface{}

type State interface {
	Write(b []byte) (n int, err error)
	Width() (wid int, ok bool)
	Precision() (prec int, ok bool)
	Flag(c int) bool
}

func Errorf(pattern string, _ ...interface{}) error { return errors.New(pattern) }

func Sprintf(pattern string, _ ...interface{}) string { return pattern }

func Fprintf(f State, pattern string, _ ...interface{}) (int, error) { return f.Write([]byte(pattern)) }
`
