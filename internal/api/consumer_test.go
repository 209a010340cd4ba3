package api

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

const consumerMod = `module consumer.example/roastery

go 1.26.0

require (
	example.org/evenlot v0.0.0
	github.com/shopspring/decimal DECIMAL
)

replace example.org/evenlot => ROOT
`

// consumer is what README.md shows, and one call into each room.
const consumer = `package main

import (
	"errors"
	"fmt"

	"example.org/evenlot/brewratio"
	"example.org/evenlot/checkpoint"
	"example.org/evenlot/degas"
	"example.org/evenlot/extraction"
	"example.org/evenlot/headspace"
	"example.org/evenlot/moisture"
	"github.com/shopspring/decimal"
)

func main() {
	room, err := moisture.EquilibriumMoisture(moisture.ParchmentArabica(), moisture.Air{TempC: 18, RHPct: 57})
	must(err)
	verdict, err := checkpoint.Judge(
		checkpoint.Reading{Value: room.MoisturePct, U: room.SEPct},
		checkpoint.Limit{Lo: 10, Hi: 12}, checkpoint.DefaultRiskPct)
	must(err)
	fmt.Printf("%.1f %%: %v\n", room.MoisturePct, verdict.Word)

	brew, err := brewratio.Water(brewratio.DoseAndRatio{DoseG: decimal.RequireFromString("18.5"), Ratio: decimal.RequireFromString("16.2")})
	must(err)
	fmt.Println(brew.WaterG, "g")

	_, err = extraction.ImmersionYield(extraction.Immersion{DoseG: 10, WaterG: 165, StrengthPct: 1.25})
	must(err)
	_, err = degas.Left(degas.FirstOrder{TauDays: 10}, 3)
	must(err)

	// One package's error type finds every package's refusal.
	_, err = headspace.FreeVolume(headspace.Fill{})
	var refused *moisture.InputError
	fmt.Println(errors.As(err, &refused), len(refused.Fields))
}

func must(err error) {
	if err != nil {
		panic(err)
	}
}
`

// A module outside the tree builds against this one with a replace line, and
// compiles no more modules along than the decimal and the special-function
// library: what tests and tools here need stays here.
func TestConsumer(t *testing.T) {
	root, err := filepath.Abs(filepath.Join("..", ".."))
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	run := func(args ...string) string {
		t.Helper()
		cmd := exec.Command("go", args...)
		cmd.Dir = dir
		cmd.Env = append(os.Environ(), "GOFLAGS=-mod=mod", "GOWORK=off")
		out, err := cmd.CombinedOutput()
		if err != nil {
			t.Fatalf("go %s: %v\n%s", strings.Join(args, " "), err, out)
		}
		return string(out)
	}
	cmd := exec.Command("go", "list", "-m", "-f", "{{.Version}}", "github.com/shopspring/decimal")
	cmd.Dir = root
	version, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	sums, err := os.ReadFile(filepath.Join(root, "go.sum"))
	if err != nil {
		t.Fatal(err)
	}
	mod := strings.NewReplacer("DECIMAL", strings.TrimSpace(string(version)), "ROOT", root).Replace(consumerMod)
	for name, text := range map[string]string{"go.mod": mod, "go.sum": string(sums), "main.go": consumer} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	run("vet", "./...")
	run("build", "-o", os.DevNull, "./...")
	if got, want := run("run", "."), "10.9 %: in\n299.7 g\ntrue 3\n"; got != want {
		t.Errorf("it prints %q, want %q", got, want)
	}
	modules := strings.Fields(run("list", "-deps", "-f", "{{with .Module}}{{.Path}}{{end}}", "."))
	for _, m := range modules {
		if m != "consumer.example/roastery" && m != "example.org/evenlot" && m != "github.com/shopspring/decimal" && m != "gonum.org/v1/gonum" {
			t.Errorf("the module %s comes along", m)
		}
	}
}
