package api

import (
	"errors"
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/labstack/echo/v4"
)

// checkParameters holds path, query and headers against the document. What the
// document cannot say is checked too: query parameters that nobody knows, and one given twice.
func (s *server) checkParameters(c echo.Context, in *call) error {
	r := c.Request()
	query, err := url.ParseQuery(r.URL.RawQuery)
	if err != nil {
		return &refusal{status: http.StatusBadRequest, code: "query", detail: "The query of the address cannot be read. Write special characters as % and two digits."}
	}
	bad := strangers(in, query)
	input := &openapi3filter.RequestValidationInput{Request: r, PathParams: pathParams(c), QueryParams: query, Route: in.route,
		Options: &openapi3filter.Options{MultiError: true, SkipSettingDefaults: true}}
	for _, ref := range in.params {
		p := ref.Value
		switch {
		case p.In == openapi3.ParameterInQuery && len(query[p.Name]) > 1,
			p.In == openapi3.ParameterInHeader && len(r.Header.Values(p.Name)) > 1:
			bad = append(bad, mistake{Parameter: p.Name, In: p.In, Code: "duplicate", Detail: "is given more than once; give it once"})
		default:
			if err := openapi3filter.ValidateParameter(r.Context(), input, p); err != nil {
				bad = append(bad, mistake{Parameter: p.Name, In: p.In, Code: parameterCode(err, p, r), Detail: parameterWords(p)})
			}
		}
	}
	query.Del("cursor")
	in.query = query.Encode()
	if len(bad) > 0 {
		return &refusal{status: http.StatusBadRequest, code: "parameters", detail: "Parameters are wrong; each is listed.", mistakes: bad}
	}
	return nil
}

// strangers finds query parameters that the call does not have, and text that is none.
func strangers(in *call, query url.Values) (bad []mistake) {
	var names []string
	for _, ref := range in.params {
		if ref.Value.In == openapi3.ParameterInQuery {
			names = append(names, ref.Value.Name)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(query)) {
		switch {
		case !slices.Contains(names, name):
			words := "there is no such parameter; this call takes none in the query"
			if len(names) > 0 {
				words = "there is no such parameter; use " + strings.Join(names, ", ")
			}
			bad = append(bad, mistake{Parameter: strings.ToValidUTF8(name, "?"), In: "query", Code: "unknown", Detail: words})
		case !utf8.ValidString(query.Get(name)) || strings.ContainsRune(query.Get(name), 0):
			bad = append(bad, mistake{Parameter: name, In: "query", Code: "pattern", Detail: "must be UTF-8 text without NUL characters"})
		}
	}
	return bad
}

// pathParams are the path's parameters as they are meant. Where the path holds an escaped
// slash or the like, echo leaves them escaped, as the generated code knows too.
func pathParams(c echo.Context) map[string]string {
	params := make(map[string]string)
	for i, name := range c.ParamNames() {
		params[name] = c.ParamValues()[i]
		if c.Request().URL.RawPath == "" {
			continue
		}
		if plain, err := url.PathUnescape(params[name]); err == nil {
			params[name] = plain
		}
	}
	return params
}

// parameterCode is the code of what is wrong with a parameter: what cannot be read at
// all is of the wrong type.
func parameterCode(err error, p *openapi3.Parameter, r *http.Request) string {
	var e *openapi3.SchemaError
	switch {
	case p.In == openapi3.ParameterInHeader && len(r.Header.Values(p.Name)) == 0:
		return "required"
	case errors.As(err, &e):
		code, _ := wordsOf(e)
		return code
	}
	return "type"
}

// parameterWords says what a parameter has to be, out of its schema.
func parameterWords(p *openapi3.Parameter) string {
	return "must be " + expected(p.Schema.Value)
}
