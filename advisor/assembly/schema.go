package assembly

import (
	"encoding/json"
	"reflect"
	"strings"

	"github.com/invopop/jsonschema"

	"relath/kb/strict"
)

// Schema gives a JSON Schema of the description file, made from the types that
// read it: keys, which of them are required, and closed words. Units, ids and
// the order of layers are beyond a schema; Parse and Resolve check them. It is
// an error only when the schema cannot be written as JSON.
func Schema() ([]byte, error) {
	r := &jsonschema.Reflector{Anonymous: true, FieldNameTag: "yaml", RequiredFromJSONSchemaTags: true, Mapper: schemaOf}
	s := r.Reflect(&House{})
	s.Title = "relath description of a house"
	settle(s, schemaTypes())
	return json.MarshalIndent(s, "", "  ")
}

// schemaTypes names every struct of the file, with the keys it requires.
func schemaTypes() map[string][]string {
	required := make(map[string][]string)
	var walk func(t reflect.Type)
	walk = func(t reflect.Type) {
		for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
			t = t.Elem()
		}
		if t.Kind() != reflect.Struct || schemaOf(t) != nil {
			return
		}
		if _, done := required[t.Name()]; done {
			return
		}
		required[t.Name()] = []string{}
		for i := range t.NumField() {
			name, rest, _ := strings.Cut(t.Field(i).Tag.Get("yaml"), ",")
			if rest == "required" {
				required[t.Name()] = append(required[t.Name()], name)
			}
			walk(t.Field(i).Type)
		}
	}
	walk(reflect.TypeFor[House]())
	return required
}

// settle removes what stands only in memory, the place in the file, and says
// which keys are required.
func settle(s *jsonschema.Schema, required map[string][]string) {
	for name, d := range s.Definitions {
		if d.Properties == nil {
			continue
		}
		d.Properties.Delete("Pos")
		d.Required = required[name]
	}
}

// schemaOf maps the types that read themselves; nil leaves a type to the
// reflector.
func schemaOf(t reflect.Type) *jsonschema.Schema {
	switch t {
	case reflect.TypeFor[strict.Text]():
		return wordOrNumber()
	case reflect.TypeFor[Choice]():
		return choiceSchema()
	}
	if t.Kind() == reflect.Pointer {
		return nil
	}
	if closed, ok := reflect.Zero(t).Interface().(interface{ Allowed() []string }); ok {
		s := &jsonschema.Schema{Type: "string"}
		for _, word := range closed.Allowed() {
			s.Enum = append(s.Enum, word)
		}
		return s
	}
	return nil
}

// wordOrNumber is a text; YAML reads an unquoted 3 as a number.
func wordOrNumber() *jsonschema.Schema {
	return &jsonschema.Schema{AnyOf: []*jsonschema.Schema{{Type: "string"}, {Type: "number"}}}
}

// choiceSchema is an id, or a doubt between several.
func choiceSchema() *jsonschema.Schema {
	two := uint64(2)
	doubt := &jsonschema.Schema{Type: "object", Properties: jsonschema.NewProperties(), AdditionalProperties: jsonschema.FalseSchema, Required: []string{"one-of"}}
	doubt.Properties.Set("one-of", &jsonschema.Schema{Type: "array", MinItems: &two, Items: &jsonschema.Schema{Type: "string"}})
	return &jsonschema.Schema{AnyOf: []*jsonschema.Schema{{Type: "string"}, doubt}}
}
