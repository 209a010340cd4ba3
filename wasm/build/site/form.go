package site

import (
	"bytes"

	"example.org/evenlot/wasm/catalogue"
)

// A Form is a calculator's form for other people's pages: the fields as our
// own page shows them, without what belongs to our page alone.
type Form struct {
	Name, Question, HTML string
}

// Forms makes the forms of calculators in every language of the site, by the
// language's code.
func Forms(list []*catalogue.Calculator) (map[string][]Form, error) {
	tongues, err := languages()
	if err != nil {
		return nil, err
	}
	made := map[string][]Form{}
	for _, l := range tongues {
		t, err := l.templates()
		if err != nil {
			return nil, err
		}
		if t, err = t.New("form").Parse(formTemplate); err != nil {
			return nil, err
		}
		for _, c := range list {
			var b bytes.Buffer
			if err := t.Execute(&b, calcView(view{}, c, nil, l)); err != nil {
				return nil, err
			}
			made[l.Code] = append(made[l.Code], Form{l.t(c.Name), l.t(c.Question), b.String()})
		}
	}
	return made, nil
}

// formTemplate takes its fields from the page's own template.
const formTemplate = `<article lang="{{lang}}" part="calculator" aria-labelledby="name">
<header><h2 id="name" part="name">{{t .Calc.Name}}</h2>
<p class="question">{{t .Calc.Question}}</p></header>
{{if .Calc.Cautions}}<section class="care" aria-labelledby="care-h">
<h3 id="care-h">{{t "Take care"}}</h3>
{{range .Calc.Cautions}}<p>{{t .}}</p>
{{end}}</section>{{end}}
<form id="form" novalidate autocomplete="off" aria-labelledby="name">
<div class="summary" id="summary" tabindex="-1" hidden></div>
{{range .Groups}}{{if .Fold}}<details class="fold"><summary>{{.Name}}</summary><fieldset><legend class="visually-hidden">{{.Name}}</legend>
{{range .Fields}}{{template "field" .}}{{end}}</fieldset></details>
{{else}}<fieldset>{{if .Name}}<legend>{{.Name}}</legend>{{else}}<legend class="visually-hidden">{{t "Readings"}}</legend>{{end}}
{{range .Fields}}{{template "field" .}}{{end}}</fieldset>
{{end}}{{end}}
{{if .Meters}}<details class="fold"><summary>{{t "What our meters may be off by"}}</summary>
<p class="hint" id="meters-hint">{{t "Half of the span within which the true value lies, in the unit of the field. The last digit typed is counted beside it."}}</p>
<fieldset><legend class="visually-hidden">{{t "Plus-minus of each reading"}}</legend>
{{range .Meters}}<div class="ask" data-field="{{.ID}}.pm"><label for="{{.DomID}}-pm">± {{.Label}}</label>
<p class="fault" id="{{.DomID}}-pm-fault"></p>
<div class="enter"><input id="{{.DomID}}-pm" name="{{.ID}}.pm" type="text" inputmode="decimal" autocomplete="off" spellcheck="false" size="8"{{with .PM}} value="{{.}}"{{end}} aria-describedby="meters-hint"></div></div>
{{end}}</fieldset></details>{{end}}
<p class="does"><button type="submit">{{t "Compute"}}</button> <button type="button" id="example">{{t "Fill in the example"}}</button> <button type="button" id="clear">{{t "Empty the form"}}</button></p>
</form>
<section class="answer" aria-labelledby="answer-h" part="answer">
<h3 id="answer-h" class="visually-hidden">{{t "Answer"}}</h3>
<p class="wait" id="wait">{{t "Starting…"}}</p>
<div id="result"></div>
<div id="more"></div>
<output id="spoken" class="visually-hidden" role="status"></output>
</section>
<details class="fold"><summary>{{t "Working"}}</summary><div id="working"><p class="hint">{{t "The lines appear with the first answer."}}</p></div></details>
<details class="fold"><summary>{{t "Sources"}}</summary><ul>{{range .Calc.Sources}}<li>{{t .Name}}{{with .Locator}}, {{t .}}{{end}} <span class="prov">({{.Provenance | provenance | t}})</span></li>{{end}}</ul></details>
<p class="foot">{{t "Nothing typed here leaves this device. A calculation is not a measurement and not a permit: where gas, heat, pressure or mould can hurt someone, local codes and licensed practice decide."}}</p>
</article>
`
