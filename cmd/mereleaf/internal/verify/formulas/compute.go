package formulas

import (
	"fmt"
	"go/token"
	"math"
	"reflect"
	"runtime"
	"strings"

	"mereleaf/cmd/mereleaf/internal/verify/formulas/texeval"
)

// outcome is what the function gave at one point.
type outcome struct {
	env    texeval.Env
	ranges map[string]texeval.Interval // results with a low and a high end
	truth  *bool                       // of a function that says whether it holds
	place  string                      // "l = 1, w = 2"
}

// directName is the name of an exported function, "pond.Prismoid", and "" of one
// that is written for the check: TestChecksCallTheFunction reads those.
func directName(f any) string {
	name := runtime.FuncForPC(reflect.ValueOf(f).Pointer()).Name()
	name = name[strings.LastIndex(name, "/")+1:]
	pkg, function, _ := strings.Cut(name, ".")
	if strings.Contains(function, ".") || !token.IsExported(function) {
		return ""
	}
	return pkg + "." + function
}

// shapeFault says why a function cannot be called with the symbols.
func (s signature) shapeFault(compute any) string {
	t := reflect.TypeOf(compute)
	if t == nil || t.Kind() != reflect.Func {
		return "names no function to compare it with"
	}
	if t.NumIn() != len(s.arguments) || t.NumOut() != len(s.results) {
		return fmt.Sprintf("has %d arguments and %d results, and its function takes %d and returns %d", len(s.arguments), len(s.results), t.NumIn(), t.NumOut())
	}
	for i := range t.NumIn() {
		switch in := t.In(i); {
		case in.Kind() == reflect.Float64, in.Kind() == reflect.Int, in == reflect.TypeFor[[]float64]():
		default:
			return "has the argument " + s.arguments[i].name + ", which is no number and no list of them"
		}
	}
	return ""
}

// run calls the function at one point.
func (s signature) run(compute any, shares []float64) (outcome, error) {
	o := outcome{ranges: map[string]texeval.Interval{}}
	o.env = texeval.Env{Values: map[string]texeval.Interval{}, Lists: map[string][]float64{}, Funcs: map[string]func(float64) float64{}}
	f := reflect.ValueOf(compute)
	in := make([]reflect.Value, len(s.arguments))
	for i, d := range s.arguments {
		v := d.at(shares[i])
		switch f.Type().In(i).Kind() {
		case reflect.Int:
			v = math.Round(v)
			in[i] = reflect.ValueOf(int(v))
		case reflect.Slice:
			list := d.list(shares[i])
			o.env.Lists[base(d.name)] = list
			in[i] = reflect.ValueOf(list)
			continue
		default:
			in[i] = reflect.ValueOf(v)
		}
		o.env.Values[d.name] = texeval.Point(v)
		o.place += fmt.Sprintf(", %s = %.6g", d.name, v)
	}
	o.place = strings.TrimPrefix(o.place, ", ")
	for i, v := range f.Call(in) {
		if err := o.bind(s.results[i].name, v); err != nil {
			return o, err
		}
	}
	return o, nil
}

// base is the name of a list without its index.
func base(name string) string {
	before, _, _ := strings.Cut(name, "_")
	return before
}

// bind notes a result under its symbol.
func (o *outcome) bind(name string, v reflect.Value) error {
	if name == "-" && v.Kind() != reflect.Bool {
		return nil
	}
	number := func(name string, v float64) error {
		o.env.Values[name] = texeval.Point(v)
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("the function finds no %s", name)
		}
		return nil
	}
	switch {
	case v.Kind() == reflect.Float64:
		return number(name, v.Float())
	case v.Kind() == reflect.Int:
		return number(name, float64(v.Int()))
	case v.Kind() == reflect.Bool:
		truth := v.Bool()
		o.truth = &truth
	case v.Kind() == reflect.Slice:
		o.env.Lists[base(name)] = v.Interface().([]float64)
	case v.Kind() == reflect.Func:
		o.env.Funcs[name] = v.Interface().(func(float64) float64)
	case v.Kind() == reflect.Struct && v.FieldByName("Likely").IsValid():
		low, high := v.FieldByName("Low").Float(), v.FieldByName("High").Float()
		o.ranges[name] = texeval.Interval{Low: low, High: high}
		o.env.Values[name+"_low"], o.env.Values[name+"_high"] = texeval.Point(low), texeval.Point(high)
		return number(name, v.FieldByName("Likely").Float())
	default:
		return fmt.Errorf("the result %s is a %s, which no symbol stands for", name, v.Kind())
	}
	return nil
}
