package reading

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"reflect"
	"regexp"
)

// Schema is the JSON Schema (draft 2020-12) of reading.json.
//
//go:embed schema.json
var Schema []byte

// Encode writes a Reading as indented JSON, numbers rounded to four decimals.
// A number that is not finite is a fault of the program and an error.
func (r Reading) Encode(w io.Writer) error {
	r.Version = Version
	if r.Photos == nil {
		r.Photos = []Photo{}
	}
	if r.Warnings == nil {
		r.Warnings = []Warning{}
	}
	return encode(w, r)
}

// Encode writes the refusal as indented JSON.
func (d RefusalDocument) Encode(w io.Writer) error { return encode(w, d) }

// numbers are lists of nothing but numbers, which are kept on one line. A
// string cannot be taken for one: its line breaks are escaped.
var (
	numbers = regexp.MustCompile(`\[\n[-+0-9.eE,\s]+\]`)
	spaces  = regexp.MustCompile(`\s+`)
)

func encode(w io.Writer, v any) error {
	tidy, err := rounded("reading", reflect.ValueOf(v))
	if err != nil {
		return err
	}
	b, err := json.MarshalIndent(tidy.Interface(), "", "  ")
	if err != nil {
		return err
	}
	b = numbers.ReplaceAllFunc(b, func(list []byte) []byte { return spaces.ReplaceAll(list, nil) })
	_, err = w.Write(append(b, '\n'))
	return err
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// rounded copies v with every float rounded to four decimals.
func rounded(path string, v reflect.Value) (reflect.Value, error) {
	out := reflect.New(v.Type()).Elem()
	out.Set(v)
	switch v.Kind() {
	case reflect.Float64:
		if !finite(v.Float()) {
			return out, fmt.Errorf("%s is not a finite number", path)
		}
		out.SetFloat(math.Round(v.Float()*1e4) / 1e4)
	case reflect.Pointer:
		if v.IsNil() {
			break
		}
		elem, err := rounded(path, v.Elem())
		if err != nil {
			return out, err
		}
		out.Set(reflect.New(v.Type().Elem()))
		out.Elem().Set(elem)
	case reflect.Struct:
		for i := range v.NumField() {
			field, err := rounded(path+"."+v.Type().Field(i).Name, v.Field(i))
			if err != nil {
				return out, err
			}
			out.Field(i).Set(field)
		}
	case reflect.Slice, reflect.Array:
		if v.Kind() == reflect.Slice {
			if v.IsNil() {
				break
			}
			out.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
		}
		for i := range v.Len() {
			elem, err := rounded(fmt.Sprintf("%s[%d]", path, i), v.Index(i))
			if err != nil {
				return out, err
			}
			out.Index(i).Set(elem)
		}
	}
	return out, nil
}
