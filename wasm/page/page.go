// Package page holds what the static site is made of beside the bundle: HTML
// templates, the stylesheet, small ES modules and the service worker. It
// knows no formula.
package page

import "embed"

// Files are the templates (*.html) and the files that are shipped as they
// are.
//
//go:embed *.html *.css *.js *.svg *.json words/*.json vendor
var Files embed.FS
