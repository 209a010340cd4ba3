// Package embed makes the folder that other people's pages and programs take
// the calculators from: an ES module with types, a custom element, the
// bundles. The folder is an npm package as it stands.
//
// Everything in it that knows a calculator (the functions, the types, the
// forms) is made from the catalogue; the shown answer is the page's own code.
package embed
