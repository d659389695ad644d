package api

import (
	"bytes"
	"cmp"
	stdjson "encoding/json" // for its Number alone, which kin-openapi understands
	"errors"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/go-json-experiment/json/jsontext"

	"hodman/service/finding"
)

// deepest is how far arrays and objects may be nested.
const deepest = 32

// document is a request's document as plain values: map, slice, string, number, bool, nil.
type document struct{ root any }

// parse reads JSON into plain values. It refuses what is none, members that stand twice,
// text that is not UTF-8, NUL characters, more than [deepest] levels, and bytes after the end.
func parse(raw []byte) (*document, error) {
	dec := jsontext.NewDecoder(bytes.NewReader(raw))
	root, err := value(dec)
	if err != nil {
		return nil, err
	}
	at := dec.InputOffset()
	if _, err := dec.ReadToken(); !errors.Is(err, io.EOF) {
		return nil, unreadable("trailing_bytes", "something follows the document after byte "+strconv.FormatInt(at, 10)+"; send one document", "")
	}
	return &document{root}, nil
}

func value(dec *jsontext.Decoder) (any, error) {
	tok, err := dec.ReadToken()
	if err != nil {
		return nil, broken(err)
	}
	if dec.StackDepth() > deepest {
		return nil, unreadable("too_deep", "it is nested more than "+strconv.Itoa(deepest)+" deep", "")
	}
	switch tok.Kind() {
	case '{':
		return object(dec)
	case '[':
		list := []any{}
		for dec.PeekKind() != ']' {
			v, err := value(dec)
			if err != nil {
				return nil, err
			}
			list = append(list, v)
		}
		return list, end(dec)
	case '"':
		return text(dec, tok)
	case '0':
		return stdjson.Number(tok.String()), nil
	case 't', 'f':
		return tok.Bool(), nil
	}
	return nil, nil
}

func object(dec *jsontext.Decoder) (any, error) {
	members := make(map[string]any)
	for dec.PeekKind() != '}' {
		tok, err := dec.ReadToken()
		if err != nil {
			return nil, broken(err)
		}
		name, err := text(dec, tok)
		if err != nil {
			return nil, err
		}
		if members[name], err = value(dec); err != nil {
			return nil, err
		}
	}
	return members, end(dec)
}

func end(dec *jsontext.Decoder) error {
	if _, err := dec.ReadToken(); err != nil {
		return broken(err)
	}
	return nil
}

func text(dec *jsontext.Decoder, tok jsontext.Token) (string, error) {
	s := tok.String()
	if strings.ContainsRune(s, 0) {
		return "", unreadable("nul", "a text holds the character NUL, which cannot be kept; leave it out", dec.StackPointer())
	}
	return s, nil
}

// hold finds every place where the document is not what the schema says, in order
// of place.
func (d *document) hold(schema *openapi3.Schema) finding.Faults {
	var faults finding.Faults
	gather(&faults, schema.VisitJSON(d.root, openapi3.MultiErrors(), openapi3.VisitAsRequest()))
	unplain(&faults, "", schema, d.root)
	slices.SortStableFunc(faults, func(a, b finding.Fault) int {
		return cmp.Or(comparePointers(a.Pointer, b.Pointer), strings.Compare(a.Code, b.Code))
	})
	return slices.CompactFunc(faults, func(a, b finding.Fault) bool { return a.Pointer == b.Pointer && a.Code == b.Code })
}

// unplain finds whole numbers that are written with a point or an exponent, which the
// engines' own types do not read.
func unplain(faults *finding.Faults, at string, schema *openapi3.Schema, v any) {
	switch v := v.(type) {
	case map[string]any:
		for name, p := range schema.Properties {
			if there, ok := v[name]; ok {
				unplain(faults, at+pointer([]string{name}), p.Value, there)
			}
		}
	case []any:
		for i := range v {
			if schema.Items != nil {
				unplain(faults, at+"/"+strconv.Itoa(i), schema.Items.Value, v[i])
			}
		}
	case stdjson.Number:
		if schema.Type.Is("integer") && strings.ContainsAny(v.String(), ".eE") {
			faults.Add(at, "type", "is not written as a whole number; give "+expected(schema)+", without a point or an exponent")
		}
	}
}

// comparePointers puts /walls/2 before /walls/10.
func comparePointers(a, b string) int {
	return slices.CompareFunc(strings.Split(a, "/"), strings.Split(b, "/"), func(x, y string) int {
		n, errN := strconv.Atoi(x)
		m, errM := strconv.Atoi(y)
		if errN == nil && errM == nil {
			return n - m
		}
		return strings.Compare(x, y)
	})
}

func gather(faults *finding.Faults, err error) {
	if err == nil {
		return
	}
	if many, ok := err.(openapi3.MultiError); ok {
		for _, e := range many {
			gather(faults, e)
		}
		return
	}
	var e *openapi3.SchemaError
	if !errors.As(err, &e) {
		faults.Add("", "type", "is not what the contract describes")
		return
	}
	at := pointer(e.JSONPointer())
	if members, ok := e.Value.(map[string]any); ok && (e.SchemaField == "properties" || e.SchemaField == "additionalProperties") {
		// kin-openapi names the object; each stranger in it is named here.
		for name := range members {
			if e.Schema.Properties[name] == nil {
				faults.Add(at+pointer([]string{name}), "unknown", "there is no such member; "+known(e.Schema))
			}
		}
		return
	}
	code, detail := wordsOf(e)
	faults.Add(at, code, detail)
}

func pointer(path []string) string {
	var b strings.Builder
	for _, name := range path {
		b.WriteByte('/')
		b.WriteString(strings.NewReplacer("~", "~0", "/", "~1").Replace(name))
	}
	return b.String()
}

// wordsOf tells a mistake in the words of whoever has to mend it.
func wordsOf(e *openapi3.SchemaError) (code, detail string) {
	if e.Value == nil && e.SchemaField != "required" {
		return "null", "is null; leave it out, or give " + expected(e.Schema)
	}
	if n, ok := e.Value.(stdjson.Number); ok {
		if _, err := n.Float64(); err != nil {
			return "range", "is out of range; give " + expected(e.Schema)
		}
	}
	switch e.SchemaField {
	case "required":
		return "required", "is missing; give " + expected(member(e))
	case "type":
		return "type", "is of the wrong type; give " + expected(e.Schema)
	case "enum":
		return "choice", "is none of the words that it may be; give " + expected(e.Schema)
	case "pattern", "format":
		return "pattern", "is not of the right form; give " + expected(e.Schema)
	case "minLength", "maxLength":
		return "length", "is too short or too long; give " + expected(e.Schema)
	case "minItems", "maxItems":
		return "items", "holds too few or too many; give " + expected(e.Schema)
	case "nullable":
		return "null", "is null; leave it out, or give " + expected(e.Schema)
	}
	return "range", "is out of range or too fine; give " + expected(e.Schema)
}

// member is the schema of the member that is missing.
func member(e *openapi3.SchemaError) *openapi3.Schema {
	path := e.JSONPointer()
	if len(path) == 0 {
		return e.Schema
	}
	if p := e.Schema.Properties[path[len(path)-1]]; p != nil {
		return p.Value
	}
	return e.Schema
}

func known(schema *openapi3.Schema) string {
	var names []string
	for name := range schema.Properties {
		names = append(names, name)
	}
	slices.Sort(names)
	return "use " + strings.Join(names, ", ")
}

// expected says what a value has to be, out of its schema.
func expected(schema *openapi3.Schema) string {
	switch {
	case len(schema.Enum) > 0:
		var words []string
		for _, w := range schema.Enum {
			if s, ok := w.(string); ok {
				words = append(words, s)
			}
		}
		return "one of " + strings.Join(words, ", ")
	case schema.Type.Is("number"), schema.Type.Is("integer"):
		return expectedNumber(schema)
	case schema.Type.Is("string"):
		return expectedText(schema)
	case schema.Type.Is("array"):
		s := "a list"
		if schema.MinItems > 0 || schema.MaxItems != nil {
			s += " of " + strconv.FormatUint(schema.MinItems, 10) + " to " + strconv.FormatUint(*schema.MaxItems, 10)
		}
		return s
	case schema.Type.Is("boolean"):
		return "true or false"
	}
	return "an object"
}

func expectedNumber(schema *openapi3.Schema) string {
	s := "a number"
	if schema.Type.Is("integer") {
		s = "a whole number"
	}
	if schema.Min != nil && schema.Max != nil {
		s += " from " + decimal(*schema.Min) + " to " + decimal(*schema.Max)
	}
	if m := schema.MultipleOf; m != nil {
		s += " in steps of " + decimal(*m)
	}
	return s
}

func decimal(f float64) string { return strconv.FormatFloat(f, 'f', -1, 64) }

// span is a range of lengths, or the one length there is.
func span(least, most uint64) string {
	if least == most {
		return strconv.FormatUint(least, 10)
	}
	return strconv.FormatUint(least, 10) + " to " + strconv.FormatUint(most, 10)
}

func expectedText(schema *openapi3.Schema) string {
	switch {
	case schema.Format == "uuid":
		return "an id such as 01999999-9999-7999-8999-999999999999"
	case schema.Format == "date":
		return "a date as YYYY-MM-DD"
	}
	s := "a text"
	if schema.MaxLength != nil {
		s += " of " + span(schema.MinLength, *schema.MaxLength) + " characters"
	}
	if schema.Pattern != "" {
		s += " of the form " + schema.Pattern
	}
	return s
}
