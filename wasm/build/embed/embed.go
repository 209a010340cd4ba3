package embed

import (
	"bytes"
	"crypto/sha512"
	"embed"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"example.org/evenlot/wasm/build/site"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/catalogue/all"
	"example.org/evenlot/wasm/page"
)

//go:embed evenlot.js evenlot-element.js evenlot-element.css evenlot-element.d.ts types.d.ts README.md
var own embed.FS

// Name is the package's name.
const Name = "evenlot"

// Folder makes every file of the package, by its path, from the files of a
// built site, of which it takes the bundles. root is the module's folder.
func Folder(root string, built map[string][]byte) (map[string][]byte, error) {
	files := map[string][]byte{}
	for _, b := range all.Bundles() {
		for _, name := range []string{b.Name + ".wasm", b.Name + ".wasm.gz"} {
			if len(built[name]) == 0 {
				return nil, errors.New("the site holds no " + name)
			}
			files[name] = built[name]
		}
	}
	var err error
	if files["LICENSE"], err = os.ReadFile(filepath.Join(root, "LICENSE")); err != nil {
		return nil, err
	}
	if files["licences.txt"], err = licences(built["licences.txt"]); err != nil {
		return nil, err
	}
	if files["wasm_exec.js"], err = world(built["wasm_exec.js"]); err != nil {
		return nil, err
	}
	if files["evenlot-sheet.js"], err = sheet(); err != nil {
		return nil, err
	}
	codes, err := forms(files)
	if err != nil {
		return nil, err
	}
	table, err := calculators()
	if err != nil {
		return nil, err
	}
	if files["evenlot.d.ts"], err = types(codes); err != nil {
		return nil, err
	}
	css, err := own.ReadFile("evenlot-element.css")
	if err != nil {
		return nil, err
	}
	fetched := map[string]string{}
	for name, b := range files {
		if strings.Contains(name, ".wasm") || strings.HasPrefix(name, "words/") {
			fetched[name] = Integrity(b)
		}
	}
	for _, f := range []struct {
		name string
		fill map[string]any
	}{
		{"evenlot.js", map[string]any{"/*{{CALCULATORS}}*/ {}": table, "/*{{INTEGRITY}}*/ {}": fetched, "/*{{LANGUAGES}}*/ [\"en\"]": codes, `"{{VERSION}}"`: catalogue.Version}},
		{"evenlot-element.js", map[string]any{`/*{{CSS}}*/ ""`: string(css)}},
		{"evenlot-element.d.ts", nil},
		{"README.md", nil},
	} {
		text, err := own.ReadFile(f.name)
		if err != nil {
			return nil, err
		}
		for place, v := range f.fill {
			if bytes.Count(text, []byte(place)) != 1 {
				return nil, fmt.Errorf("%s: %s does not stand there once", f.name, place)
			}
			j, err := compact(v)
			if err != nil {
				return nil, err
			}
			text = bytes.Replace(text, []byte(place), j, 1)
		}
		files[f.name] = text
	}
	if files["package.json"], err = manifest(files); err != nil {
		return nil, err
	}
	return files, sums(files)
}

// compact writes JSON without the escapes that only HTML needs.
func compact(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return bytes.TrimSpace(b.Bytes()), err
}

// Integrity is the subresource integrity of a file.
func Integrity(b []byte) string {
	h := sha512.Sum384(b)
	return "sha384-" + base64.StdEncoding.EncodeToString(h[:])
}

// sums adds the checksums: for sha256sum -c, and for the integrity attribute.
func sums(files map[string][]byte) error {
	text, table := site.Sums(files), map[string]string{}
	for name, b := range files {
		table[name] = Integrity(b)
	}
	j, err := json.MarshalIndent(table, "", " ")
	if err != nil {
		return err
	}
	files["SHA256SUMS"], files["integrity.json"] = text, append(j, '\n')
	return nil
}

// licences leaves away what only the site ships: the npm packages, which
// stand last.
func licences(all []byte) ([]byte, error) {
	first := regexp.MustCompile(`(?m)^.* \(npm\), `).FindIndex(all)
	if first == nil {
		return nil, errors.New("licences.txt: no npm package is found in it: look at the package site")
	}
	return all[:first[0]], nil
}

// world makes Go's support script a module that leaves the page's globals
// alone: what it takes for globalThis is an object of the instance's own.
func world(script []byte) ([]byte, error) {
	if !bytes.Contains(script, []byte("globalThis.Go = class")) || bytes.Contains(script, []byte("import ")) {
		return nil, errors.New("wasm_exec.js is not as this build knows it")
	}
	var b bytes.Buffer
	b.WriteString("// Go's wasm_exec.js as it is, inside a function: the page's globals stay as they are.\nexport function world(globalThis) {\n")
	b.Write(bytes.Replace(script, []byte(`"use strict";`), nil, 1)) // a module is strict
	b.WriteString("return globalThis;\n}\n")
	return b.Bytes(), nil
}

// sheet joins the page's scripts that show an answer into one module, whose
// words and trusted types are the caller's.
func sheet() ([]byte, error) {
	var b bytes.Buffer
	b.WriteString("// The page's own code for showing an answer.\nexport function shower(t, n, trusted) {\nconst say = t;\n")
	for _, name := range []string{"dom.js", "sheet.js"} {
		text, err := page.Files.ReadFile(name)
		if err != nil {
			return nil, err
		}
		for line := range strings.Lines(string(text)) {
			switch {
			case strings.HasPrefix(line, "import "):
				continue
			case strings.HasPrefix(line, "export "):
				line = strings.TrimPrefix(line, "export ")
			}
			b.WriteString(strings.Replace(line, ".innerHTML = markup", ".innerHTML = trusted(markup)", 1))
		}
	}
	b.WriteString("return { h, answer, behind, working, spoken };\n}\n")
	if n := bytes.Count(b.Bytes(), []byte("innerHTML")); n != bytes.Count(b.Bytes(), []byte(".innerHTML = trusted(markup)")) || n == 0 {
		return nil, errors.New("the page's scripts write markup in a way that this build does not know")
	}
	return b.Bytes(), nil
}

// forms adds the calculators' forms and the words, and returns the languages.
func forms(files map[string][]byte) ([]string, error) {
	list := all.Calculators()
	made, err := site.Forms(list)
	if err != nil {
		return nil, err
	}
	codes := []string{"en"}
	for _, code := range slices.Sorted(maps.Keys(made)) {
		if code != "en" {
			codes = append(codes, code)
			if files["words/"+code+".json"], err = page.Files.ReadFile("words/" + code + ".json"); err != nil {
				return nil, err
			}
		}
		for i, f := range made[code] {
			text, err := compact(struct {
				Name     string            `json:"name"`
				Question string            `json:"question"`
				Example  map[string]string `json:"example"`
				HTML     string            `json:"html"`
			}{f.Name, f.Question, list[i].Example(), f.HTML})
			if err != nil {
				return nil, err
			}
			files["forms/"+code+"/"+list[i].ID+".json"] = append(text, '\n')
		}
	}
	return codes, nil
}

// manifest is the package.json.
func manifest(files map[string][]byte) ([]byte, error) {
	licence := "SEE LICENSE IN LICENSE"
	if bytes.Contains(files["LICENSE"], []byte("Apache License")) {
		licence = "Apache-2.0"
	}
	type entry struct {
		Types   string `json:"types"`
		Default string `json:"default"`
	}
	text, err := json.MarshalIndent(struct {
		Name        string            `json:"name"`
		Version     string            `json:"version"`
		Description string            `json:"description"`
		License     string            `json:"license"`
		Type        string            `json:"type"`
		Main        string            `json:"main"`
		Types       string            `json:"types"`
		Exports     map[string]any    `json:"exports"`
		SideEffects []string          `json:"sideEffects"`
		Engines     map[string]string `json:"engines"`
	}{Name, catalogue.Version, "Checked arithmetic for coffee roasteries, from the sack to the cup", licence, "module", "./evenlot.js", "./evenlot.d.ts",
		map[string]any{".": entry{"./evenlot.d.ts", "./evenlot.js"}, "./element": entry{"./evenlot-element.d.ts", "./evenlot-element.js"}, "./*": "./*"},
		[]string{"./evenlot-element.js"}, map[string]string{"node": ">=20"}}, "", "  ")
	return append(text, '\n'), err
}
