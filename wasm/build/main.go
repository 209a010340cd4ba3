// Command build writes the static site, ready for any static server:
//
//	go run ./wasm/build [-out dist]
//
// or the folder for other people's pages and programs, an npm package:
//
//	go run ./wasm/build -embed FOLDER
package main

import (
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"

	"example.org/evenlot/wasm/build/embed"
	"example.org/evenlot/wasm/build/site"
)

func main() {
	out := flag.String("out", "dist", "folder to write the site to")
	into := flag.String("embed", "", "folder to write the npm package to, in place of the site")
	flag.Parse()
	if err := run(*out, *into); err != nil {
		fmt.Fprintln(os.Stderr, "build:", err)
		os.Exit(1)
	}
}

func run(out, into string) error {
	root, err := site.Root()
	if err != nil {
		return err
	}
	files, err := site.Build(root)
	if err != nil {
		return err
	}
	if into != "" {
		out = into
		if files, err = embed.Folder(root, files); err != nil {
			return err
		}
	}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		path := filepath.Join(out, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(path, files[name], 0o644); err != nil {
			return err
		}
		if _, done := files[name+".gz"]; done || into != "" {
			continue
		}
		if z := site.Gzip(files[name]); z != nil {
			if err := os.WriteFile(path+".gz", z, 0o644); err != nil {
				return err
			}
		}
	}
	fmt.Printf("%d files in %s\n", len(files), out)
	return nil
}
