package headspace

import (
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// A limit is the accepted range of one field.
type limit struct {
	field    string
	min, max float64
}

// refuses checks a function's input against the limits of its fields, given
// in order of declaration: each limit exactly is accepted, one step beyond,
// NaN and the infinities are refused by name; the zero input is refused; two
// bad fields come back both, in order; beside an error the result is zero,
// beside none it is finite.
func refuses[In any, Out comparable](t *testing.T, good In, f func(In) (Out, error), limits ...limit) {
	t.Helper()
	var zero Out
	name := reflect.TypeFor[In]().Name()
	var named []*FieldError // by the last call
	call := func(in In) []string {
		t.Helper()
		named = nil
		out, err := f(in)
		if err == nil {
			if !finiteAll(reflect.ValueOf(out)) {
				t.Errorf("%s: %+v gives %+v", name, in, out)
			}
			return nil
		}
		if out != zero {
			t.Errorf("%s: %+v gives %+v beside %v", name, in, out, err)
		}
		var input *InputError
		if errors.As(err, &input) {
			var fields []string
			named = input.Fields
			for _, e := range input.Fields {
				fields = append(fields, e.Field)
			}
			return fields
		}
		var none *ImpossibleError
		if !errors.As(err, &none) {
			t.Errorf("%s: %+v is refused by a plain %v", name, in, err)
		}
		return nil
	}
	if got := call(good); got != nil {
		t.Fatalf("%s: the good input is refused in %v", name, got)
	}
	if got := call(*new(In)); got == nil {
		t.Errorf("%s: the zero input is accepted", name)
	}
	for i, l := range limits {
		set := func(in In, v float64) (In, bool) {
			x := part(reflect.ValueOf(&in).Elem(), l.field)
			switch x.Kind() {
			case reflect.Int:
				x.SetInt(int64(v))
				return in, v == math.Trunc(v) && math.Abs(v) < 1e18
			case reflect.Uint8:
				x.SetUint(uint64(v))
				return in, v == math.Trunc(v) && v >= 0 && v < 256
			}
			x.SetFloat(v)
			return in, true
		}
		below, above := math.Nextafter(l.min, math.Inf(-1)), math.Nextafter(l.max, math.Inf(1))
		if k := part(reflect.ValueOf(good), l.field).Kind(); k != reflect.Float64 {
			below, above = l.min-1, l.max+1
		}
		for _, v := range []float64{l.min, l.max} {
			if in, ok := set(good, v); ok {
				for _, field := range call(in) {
					if field == l.field {
						t.Errorf("%s: %s = %v is refused", name, l.field, v)
					}
				}
			}
		}
		for _, v := range []float64{below, above, math.NaN(), math.Inf(1), math.Inf(-1), -1e300, 1e300} {
			in, ok := set(good, v)
			if !ok {
				continue
			}
			if got := call(in); !contains(got, l.field) {
				t.Errorf("%s: %s = %v is not refused (%v)", name, l.field, v, got)
			}
			for _, e := range named {
				if e.Field == l.field && (v == below && e.Min != l.min || v == above && e.Max != l.max) {
					t.Errorf("%s: %s = %v: %v; want %v to %v", name, l.field, v, e, l.min, l.max)
				}
			}
			if i == 0 {
				continue
			}
			// The field before it too: both are named, in order.
			first := limits[i-1]
			x := part(reflect.ValueOf(&in).Elem(), first.field)
			switch x.Kind() {
			case reflect.Int:
				x.SetInt(-1 << 40)
			case reflect.Uint8:
				x.SetUint(255)
			default:
				x.SetFloat(math.NaN())
			}
			if diff := cmp.Diff([]string{first.field, l.field}, call(in)); diff != "" {
				t.Errorf("%s: two bad fields: %s", name, diff)
			}
		}
	}
}

// part finds a field by its dotted name.
func part(v reflect.Value, name string) reflect.Value {
	for f := range strings.SplitSeq(name, ".") {
		v = v.FieldByName(f)
	}
	return v
}

func contains(list []string, s string) bool {
	for _, v := range list {
		if v == s {
			return true
		}
	}
	return false
}

// finiteAll says whether every float in v is finite.
func finiteAll(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Float64:
		return !math.IsNaN(v.Float()) && !math.IsInf(v.Float(), 0)
	case reflect.Struct:
		for i := range v.NumField() {
			if !finiteAll(v.Field(i)) {
				return false
			}
		}
	case reflect.Array:
		for i := range v.Len() {
			if !finiteAll(v.Index(i)) {
				return false
			}
		}
	}
	return true
}

// allocatesNothing checks a function of floats on an accepted input.
func allocatesNothing[In, Out any](t *testing.T, good In, f func(In) (Out, error)) {
	t.Helper()
	if n := testing.AllocsPerRun(100, func() {
		if _, err := f(good); err != nil {
			t.Fatal(err)
		}
	}); n != 0 {
		t.Errorf("%s costs %v allocations", reflect.TypeFor[In]().Name(), n)
	}
}

// near fails unless got is want to within a relative tolerance.
func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Max(math.Abs(want), 1e-300)) {
		t.Errorf("%s is %.17g, want %.17g", what, got, want)
	}
}

// judged fails when an answer is neither finite nor a refusal of ours.
func judged(t *testing.T, out any, err error) {
	t.Helper()
	if err == nil {
		if !finiteAll(reflect.ValueOf(out)) {
			t.Fatalf("%+v", out)
		}
		return
	}
	var input *InputError
	var none *ImpossibleError
	if !errors.As(err, &input) && !errors.As(err, &none) {
		t.Fatalf("a plain %v", err)
	}
	if !reflect.ValueOf(out).IsZero() {
		t.Fatalf("%+v beside %v", out, err)
	}
}
