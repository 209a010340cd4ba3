// Command service answers calculations over HTTP, and refuses like a
// colleague: which field, what was given, what it takes, and why.
//
//	go run ./examples/service
//	curl -d '{"TempC": 18, "RHPct": 570}' localhost:8026/room-moisture
//
// A request and its answer are the library's own structs as JSON: the names of
// the fields carry the units, decimals travel as strings and keep their
// digits, notes travel as words.
//
//	200  the answer
//	400  the body is no JSON of this shape
//	413  the body is longer than 64 KiB
//	422  the input was refused, or what it asks for does not exist
package main

import (
	"encoding/json"
	"errors"
	"io"
	"log"
	"math"
	"net/http"
	"time"

	"example.org/evenlot/brewratio"
	"example.org/evenlot/headspace"
	"example.org/evenlot/moisture"
)

// maxBody is far above any honest input, bytes.
const maxBody = 64 << 10

func main() {
	server := &http.Server{
		Addr:              "localhost:8026",
		Handler:           handler(),
		ReadHeaderTimeout: 2 * time.Second,
		ReadTimeout:       5 * time.Second,
		WriteTimeout:      10 * time.Second,
		IdleTimeout:       time.Minute,
		MaxHeaderBytes:    8 << 10,
	}
	log.Printf("listening on http://%s", server.Addr)
	log.Fatal(server.ListenAndServe())
}

// handler has one address for each calculation. None of them remembers
// anything, so that all may run at once.
func handler() http.Handler {
	mux := http.NewServeMux()
	mux.Handle("POST /water", answer(brewratio.Water))
	mux.Handle("POST /roast-loss", answer(moisture.RoastLoss))
	mux.Handle("POST /flushes", answer(headspace.FlushesFor))
	mux.Handle("POST /room-moisture", answer(func(air moisture.Air) (moisture.Equilibrium, error) {
		return moisture.EquilibriumMoisture(moisture.ParchmentArabica(), air)
	}))
	return http.TimeoutHandler(mux, 5*time.Second, `{"error":"the answer took too long"}`)
}

// answer puts a function of the library behind an address.
func answer[In, Out any](f func(In) (Out, error)) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		var in In
		body := json.NewDecoder(http.MaxBytesReader(w, r.Body, maxBody))
		body.DisallowUnknownFields() // a misspelt field would silently be zero
		err := body.Decode(&in)
		if err == nil && body.More() {
			err = errors.New("one object is expected")
		}
		if err != nil && !errors.Is(err, io.EOF) {
			status := http.StatusBadRequest
			if _, long := errors.AsType[*http.MaxBytesError](err); long {
				status = http.StatusRequestEntityTooLarge
			}
			write(w, status, Refusal{Error: err.Error()})
			return
		}
		out, err := f(in)
		if err != nil {
			write(w, http.StatusUnprocessableEntity, refusal(err))
			return
		}
		write(w, http.StatusOK, out)
	})
}

// A Refusal is what a client gets in place of an answer.
type Refusal struct {
	Error  string  `json:"error"`            // the library's own words, for a log
	Fields []Field `json:"fields,omitempty"` // for a form: one entry for each refused field
	None   *None   `json:"none,omitempty"`   // every field is fine alone, but there is no such answer
}

// A Field is one refused field. An open end of the range is left away.
type Field struct {
	Field string   `json:"field"`
	Given string   `json:"given"`
	Min   *float64 `json:"min,omitempty"`
	Max   *float64 `json:"max,omitempty"`
	Unit  string   `json:"unit,omitempty"`
	Why   string   `json:"why,omitempty"`
}

// None says which change would make the answer exist.
type None struct {
	Quantity string `json:"quantity"`
	Field
}

// refusal copies an error's parts; a program that shows its own words to its
// own users needs them apart.
func refusal(err error) Refusal {
	r := Refusal{Error: err.Error()}
	if input, ok := errors.AsType[*moisture.InputError](err); ok { // the type is one for all packages
		for _, f := range input.Fields {
			r.Fields = append(r.Fields, Field{f.Field, f.Given, finite(f.Min), finite(f.Max), f.Unit, f.Why})
		}
	}
	if none, ok := errors.AsType[*moisture.ImpossibleError](err); ok {
		r.None = &None{none.Quantity, Field{none.Field, none.Given, finite(none.Min), finite(none.Max), none.Unit, none.Why}}
	}
	return r
}

// finite is nil for an open end, which JSON cannot write.
func finite(v float64) *float64 {
	if math.IsInf(v, 0) {
		return nil
	}
	return &v
}

func write(w http.ResponseWriter, status int, v any) {
	text, err := json.Marshal(v)
	if err != nil { // such as an infinite bound in an answer
		status, text = http.StatusInternalServerError, []byte(`{"error":"the answer cannot be written as JSON"}`)
		log.Print(err)
	}
	w.Header().Set("Content-Type", "application/json")
	w.Header().Set("X-Content-Type-Options", "nosniff")
	w.WriteHeader(status)
	w.Write(append(text, '\n')) // a client that has gone away hears nothing
}
