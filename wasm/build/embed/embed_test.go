package embed

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	"example.org/evenlot/wasm/build/site"
	"example.org/evenlot/wasm/catalogue"
	"example.org/evenlot/wasm/catalogue/all"
	"example.org/evenlot/wasm/page"
)

// built stands for a site: bundles need not be real to be packed.
func built() map[string][]byte {
	files := map[string][]byte{
		"licences.txt": []byte("Evenlot\n\nx\n\nThe Go standard library\n\ny\n\nlean-qr 2.7.4 (npm), QR codes\n\nz\n"),
		"wasm_exec.js": []byte("\"use strict\";\n(() => { globalThis.Go = class { }; })();\n"),
		"index.html":   []byte("the site's own"),
	}
	for _, b := range all.Bundles() {
		files[b.Name+".wasm"], files[b.Name+".wasm.gz"] = []byte("plain "+b.Name), []byte("packed "+b.Name)
	}
	return files
}

func folder(t *testing.T) map[string][]byte {
	t.Helper()
	root, err := site.Root()
	if err != nil {
		t.Fatal(err)
	}
	files, err := Folder(root, built())
	if err != nil {
		t.Fatal(err)
	}
	again, err := Folder(root, built())
	if err != nil {
		t.Fatal(err)
	}
	for name, b := range files {
		if string(b) != string(again[name]) {
			t.Errorf("%s differs between two builds", name)
		}
	}
	return files
}

func TestFolder(t *testing.T) {
	files := folder(t)
	if files["index.html"] != nil {
		t.Error("a page of the site was packed")
	}
	for name, b := range files {
		if strings.Contains(string(b), "{{") {
			t.Errorf("%s still holds a place to fill", name)
		}
	}
	var p struct {
		Name, Version, License, Type, Main, Types string
		Exports                                   map[string]any
	}
	if err := json.Unmarshal(files["package.json"], &p); err != nil {
		t.Fatal(err)
	}
	if p.Name != Name || p.Version != catalogue.Version || p.License != "Apache-2.0" || p.Type != "module" {
		t.Errorf("package.json says %+v", p)
	}
	for _, at := range []any{p.Main, p.Types, p.Exports["."].(map[string]any)["types"], p.Exports["."].(map[string]any)["default"],
		p.Exports["./element"].(map[string]any)["types"], p.Exports["./element"].(map[string]any)["default"]} {
		if files[strings.TrimPrefix(at.(string), "./")] == nil {
			t.Errorf("package.json names %s, which is not there", at)
		}
	}
	if got := string(files["licences.txt"]); !strings.Contains(got, "The Go standard library") || strings.Contains(got, "lean-qr") {
		t.Errorf("licences.txt is\n%s", got)
	}

	// Every file has its checksum and its integrity, and no other has.
	var table map[string]string
	if err := json.Unmarshal(files["integrity.json"], &table); err != nil {
		t.Fatal(err)
	}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		line := fmt.Sprintf("%x  %s\n", sha256.Sum256(files[name]), name)
		if name == "integrity.json" || name == "SHA256SUMS" {
			continue
		}
		if !strings.Contains(string(files["SHA256SUMS"]), line) {
			t.Errorf("SHA256SUMS lacks %s", line)
		}
		if table[name] != Integrity(files[name]) {
			t.Errorf("integrity.json has %q for %s", table[name], name)
		}
		delete(table, name)
	}
	if len(table) > 0 {
		t.Errorf("integrity.json names what is not there: %v", table)
	}
	// The module carries the hashes of what it fetches.
	for _, b := range all.Bundles() {
		for _, name := range []string{b.Name + ".wasm", b.Name + ".wasm.gz"} {
			if !strings.Contains(string(files["evenlot.js"]), `"`+name+`":"`+Integrity(built()[name])+`"`) {
				t.Errorf("evenlot.js lacks the hash of %s", name)
			}
		}
	}
}

// A known answer, so that the hash is the one that browsers compute: the
// empty file's, from the standard's own test of SHA-384.
func TestIntegrity(t *testing.T) {
	if got, want := Integrity(nil), "sha384-OLBgp1GsljhM2TJ+sbHjaiH9txEUvgdDTAzHv2P24donTt6/529l+9Ua0vFImLlb"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// Whatever the site lacks is told, not left out.
func TestFolderRefuses(t *testing.T) {
	root, err := site.Root()
	if err != nil {
		t.Fatal(err)
	}
	for name, other := range map[string]string{"store.wasm": "", "store.wasm.gz": "", "wasm_exec.js": "another script", "licences.txt": "nothing known"} {
		files := built()
		files[name] = []byte(other)
		if _, err := Folder(root, files); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("without %s: %v", name, err)
		}
	}
}

// Each calculator has its function, its types, its form in each language.
func TestEachCalculator(t *testing.T) {
	files := folder(t)
	types, module := string(files["evenlot.d.ts"]), string(files["evenlot.js"])
	for _, c := range all.Calculators() {
		fn := camel(c.ID)
		title := strings.ToUpper(fn[:1]) + fn[1:]
		if !strings.Contains(types, "\n  "+fn+"(input: "+title+"Input, options?: Options): Promise<Result<"+title+"Values, keyof "+title+"Input>>;\n") {
			t.Errorf("evenlot.d.ts lacks %s", fn)
		}
		if !strings.Contains(module, `"`+fn+`":{"id":"`+c.ID+`"`) {
			t.Errorf("evenlot.js lacks %s", fn)
		}
		_, input, _ := strings.Cut(types, "export interface "+title+"Input {\n")
		input, _, _ = strings.Cut(input, "\n}\n")
		for _, f := range c.Form() {
			want := "\n  " + camel(f.ID) + ": "
			if f.Optional {
				want = "\n  " + camel(f.ID) + "?: "
			}
			if !strings.Contains("\n"+input, want) {
				t.Errorf("%sInput lacks%s", title, want)
			}
			for _, o := range f.Choices {
				if !strings.Contains(input, `"`+o.ID+`"`) {
					t.Errorf("%sInput lacks the option %s", title, o.ID)
				}
			}
			if units := catalogue.Units(f.Unit); f.Kind == catalogue.Number && !f.IsLimit() && len(units) > 1 && !strings.Contains(input, "\n  "+camel(f.ID)+"Unit?: "+union(units)+";") {
				t.Errorf("%sInput lacks the units of %s", title, f.ID)
			}
		}
		for _, text := range c.Cautions {
			if !strings.Contains(types, "Take care: "+text) {
				t.Errorf("evenlot.d.ts leaves away a caution of %s: %s", c.ID, text)
			}
		}
		for _, code := range []string{"en", "es"} {
			var form struct {
				HTML    string
				Example map[string]string
			}
			if err := json.Unmarshal(files["forms/"+code+"/"+c.ID+".json"], &form); err != nil {
				t.Errorf("%s, %s: %v", c.ID, code, err)
			}
			for _, f := range c.Form() {
				if !strings.Contains(form.HTML, ` name="`+f.ID+`"`) {
					t.Errorf("%s, %s: the form lacks %s", c.ID, code, f.ID)
				}
			}
			if !maps.Equal(form.Example, c.Example()) {
				t.Errorf("%s, %s: the example is %v", c.ID, code, form.Example)
			}
			// Nothing that a strict policy would stop.
			if bad := regexp.MustCompile(`(?i)<script|<style|<img|<link|\sstyle=|\son[a-z]+=|javascript:|src=`).FindString(form.HTML); bad != "" {
				t.Errorf("%s, %s: the form holds %q", c.ID, code, bad)
			}
		}
	}
}

func TestNames(t *testing.T) {
	for id, want := range map[string]string{"room-moisture": "roomMoisture", "m": "m", "what-a-scale-tells": "whatAScaleTells", "m1-max": "m1Max"} {
		if got := camel(id); got != want {
			t.Errorf("%s is %s, not %s", id, got, want)
		}
	}
	number := func(ids ...string) *catalogue.Calculator {
		c := &catalogue.Calculator{ID: "made-up", Outputs: []catalogue.Output{{ID: "y"}}}
		for _, id := range ids {
			c.Fields = append(c.Fields, catalogue.Field{ID: id})
		}
		return c
	}
	if err := distinct(number("a", "b")); err != nil {
		t.Error(err)
	}
	for _, ids := range [][]string{{"a", "a"}, {"a-b", "aB"}, {"t", "tUnit"}, {"t", "tPlusMinus"}, {"language"}, {"field-x"}, {"1a"}, {"a b"}} {
		if distinct(number(ids...)) == nil {
			t.Errorf("%q passed as names", ids)
		}
	}
	if c := number("a"); true {
		c.Outputs[0].ID = "y-z"
		if distinct(c) == nil {
			t.Error("an output with a hyphen passed")
		}
	}
	if got := comment("ends */ here\n and goes on"); got != "ends * / here and goes on" {
		t.Errorf("a comment reads %q", got)
	}
}

// What the module and the element say is in every table of words.
func TestWords(t *testing.T) {
	var words map[string]string
	text, err := page.Files.ReadFile("words/es.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &words); err != nil {
		t.Fatal(err)
	}
	said := 0
	for _, name := range []string{"evenlot.js", "evenlot-element.js"} {
		text, err := own.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile(`\bsay\("((?:[^"\\]|\\.)*)"`).FindAllStringSubmatch(string(text), -1) {
			said++
			if words[m[1]] == "" {
				t.Errorf("%s says %q, which has no Spanish", name, m[1])
			}
		}
	}
	for _, m := range regexp.MustCompile(`\{\{t "([^"]*)"\}\}`).FindAllStringSubmatch(string(folder(t)["forms/es/room-moisture.json"]), -1) {
		t.Errorf("a text was left untranslated: %s", m[1])
	}
	if said < 5 {
		t.Errorf("only %d texts were found in the scripts", said)
	}
}
