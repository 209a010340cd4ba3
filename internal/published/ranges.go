package published

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"example.org/evenlot/internal/fault"
	"github.com/shopspring/decimal"
)

// Ranges holds what the functions of a package accept against
// testdata/ranges.csv: each is called with hostile input, and every field that
// it refuses is written down with the range that it names. At the ends of that
// range exactly the field must be accepted, and one step beyond refused. With
// EVENLOT_UPDATE=1 in the environment the file is rewritten: a range that moves
// is seen in the change.
func Ranges(t *testing.T, functions map[string]any) {
	t.Helper()
	var lines []string
	for _, name := range slices.Sorted(maps.Keys(functions)) {
		found, problems := rangesOf(name, functions[name])
		lines = append(lines, found...)
		for _, p := range problems {
			t.Error(p)
		}
	}
	text := "function,field,min,max,unit\n" + strings.Join(lines, "\n") + "\n"
	path := filepath.Join("testdata", "ranges.csv")
	if os.Getenv("EVENLOT_UPDATE") == "1" {
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Error(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	was := strings.Split(strings.TrimSpace(string(want)), "\n")
	for _, l := range lines {
		if !slices.Contains(was, l) {
			t.Errorf("not in %s: %s", path, l)
		}
	}
	if is := strings.Split(strings.TrimSpace(text), "\n"); len(is) != len(was) {
		t.Errorf("%s has %d lines, here are %d", path, len(was), len(is))
	}
}

// rangesOf lists the ranges that a function names, and where it does not keep
// them.
func rangesOf(name string, f any) (lines, problems []string) {
	fn := reflect.ValueOf(f)
	named := map[string]*fault.FieldError{}
	for _, kind := range []hostile{zero, notANumber, high, low} {
		args := arguments(fn.Type(), kind)
		for _, fe := range refused(fn, args) {
			line := fmt.Sprintf("%s,%s,%s,%s,%s", name, fe.Field, fault.Shortest(fe.Min), fault.Shortest(fe.Max), fe.Unit)
			if !slices.Contains(lines, line) {
				lines = append(lines, line)
			}
			if was, ok := named[fe.Field]; ok && was != nil && (was.Min != fe.Min || was.Max != fe.Max) {
				named[fe.Field] = nil // the range depends on another field
			} else if !ok {
				named[fe.Field] = fe
			}
		}
	}
	slices.Sort(lines)
	all := refused(fn, arguments(fn.Type(), notANumber))
	listed := func(list []*fault.FieldError, field string) bool {
		return slices.ContainsFunc(list, func(r *fault.FieldError) bool { return r.Field == field })
	}
	for _, field := range slices.Sorted(maps.Keys(named)) {
		fe := named[field]
		if fe == nil || fe.Why != "" || !listed(all, field) {
			continue // more than a range decides, or other fields are looked at first
		}
		for _, end := range []struct {
			v, beyond float64
		}{{fe.Min, math.Inf(-1)}, {fe.Max, math.Inf(1)}} {
			if math.IsInf(end.v, 0) {
				continue
			}
			for _, c := range []struct {
				beyond bool
				refuse bool
			}{{false, false}, {true, true}} {
				args := arguments(fn.Type(), notANumber)
				if !set(args, field, end.v, c.beyond, end.beyond) {
					continue
				}
				is := listed(refused(fn, args), field)
				if is != c.refuse {
					problems = append(problems, fmt.Sprintf("%s: %s at %s (beyond: %v) is refused: %v", name, field, fault.Shortest(end.v), c.beyond, is))
				}
			}
		}
	}
	return lines, problems
}

type hostile int

const (
	zero hostile = iota
	notANumber
	high
	low
)

var (
	decimals = reflect.TypeFor[decimal.Decimal]()
	far      = decimal.New(1, 39)
)

func arguments(t reflect.Type, kind hostile) []reflect.Value {
	var args []reflect.Value
	for i := range t.NumIn() {
		if t.IsVariadic() && i == t.NumIn()-1 {
			break
		}
		v := reflect.New(t.In(i)).Elem()
		fill(v, kind)
		args = append(args, v)
	}
	return args
}

func fill(v reflect.Value, kind hostile) {
	if kind == zero || !v.CanSet() {
		return
	}
	if v.Type() == decimals {
		d := far
		if kind == low {
			d = far.Neg()
		}
		v.Set(reflect.ValueOf(d))
		return
	}
	switch v.Kind() {
	case reflect.Float64:
		v.SetFloat([]float64{0, math.NaN(), math.MaxFloat64, -math.MaxFloat64}[kind])
	case reflect.Int, reflect.Int64:
		v.SetInt([]int64{0, math.MaxInt64, math.MaxInt64, math.MinInt64}[kind])
	case reflect.Uint8:
		v.SetUint(200)
	case reflect.Struct:
		for i := range v.NumField() {
			fill(v.Field(i), kind)
		}
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 1, 1))
		fill(v.Index(0), kind)
	case reflect.Func:
		t := v.Type()
		v.Set(reflect.MakeFunc(t, func([]reflect.Value) []reflect.Value {
			var out []reflect.Value
			for i := range t.NumOut() {
				out = append(out, reflect.Zero(t.Out(i)))
			}
			return out
		}))
	}
}

// refused calls a function and returns the fields that it refused.
func refused(fn reflect.Value, args []reflect.Value) []*fault.FieldError {
	out := fn.Call(args)
	err, ok := out[len(out)-1].Interface().(error)
	if !ok {
		return nil
	}
	var input *fault.InputError
	if errors.As(err, &input) {
		return input.Fields
	}
	return nil
}

// set finds a field of the first argument by its name and puts it to a limit,
// or one step beyond; it says whether that could be done.
func set(args []reflect.Value, field string, limit float64, beyond bool, toward float64) bool {
	if len(args) == 0 || args[0].Kind() != reflect.Struct || strings.ContainsAny(field, ".[") {
		return false
	}
	v := args[0].FieldByName(field)
	if !v.IsValid() || !v.CanSet() {
		return false
	}
	if v.Type() == decimals {
		d := decimal.NewFromFloat(limit)
		if beyond {
			step := decimal.New(1, d.Exponent()-6)
			if toward < 0 {
				step = step.Neg()
			}
			d = d.Add(step)
		}
		v.Set(reflect.ValueOf(d))
		return true
	}
	switch v.Kind() {
	case reflect.Float64:
		if beyond {
			limit = math.Nextafter(limit, toward)
		}
		v.SetFloat(limit)
	case reflect.Int:
		n, err := strconv.Atoi(strconv.FormatFloat(limit, 'f', -1, 64))
		if err != nil {
			return false
		}
		if beyond && toward > 0 {
			n++
		} else if beyond {
			n--
		}
		v.SetInt(int64(n))
	default:
		return false
	}
	return true
}
