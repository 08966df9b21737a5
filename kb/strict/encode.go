package strict

import (
	"bytes"
	"fmt"
	"math"
	"reflect"
	"slices"
	"sort"
	"strconv"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// Marshaler is implemented by types that are written in their own way: as the string, struct, slice or map that
// MarshalNode gives.
type Marshaler interface {
	MarshalNode() any
}

// zeroer is implemented by types that know when there is nothing to write.
type zeroer interface {
	IsZero() bool
}

// orderedFields is a mapping in a given order.
type orderedFields []orderedField

type orderedField struct {
	key   string
	value any
}

// Encode writes a struct as YAML: fields in the order of the type, maps by key, and without the fields that are empty
// and not required; what is short stands on one line. Decoding the bytes gives an equal value but for positions. It is an error when a value cannot be
// written so that it reads back: a number that is not finite, or a text with control characters.
func Encode(v any) ([]byte, error) {
	n, err := encode(reflect.ValueOf(v))
	if err != nil {
		return nil, err
	}
	for _, part := range n.Content {
		inline(part)
	}
	var b bytes.Buffer
	e := yaml.NewEncoder(&b)
	e.SetIndent(2)
	if err := e.Encode(n); err != nil {
		return nil, err
	}
	if err := e.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

func encode(v reflect.Value) (*yaml.Node, error) {
	if !v.IsValid() || (v.Kind() == reflect.Pointer || v.Kind() == reflect.Interface) && v.IsNil() {
		return nil, fmt.Errorf("a value is missing")
	}
	switch x := v.Interface().(type) {
	case *Value:
		return encodeValue(x)
	case Text:
		if isCount(x.Value) {
			return plain(x.Value), nil
		}
		return encodeText(x.Value)
	case Marshaler:
		return encode(reflect.ValueOf(x.MarshalNode()))
	case orderedFields:
		return encodeFields(x)
	}
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		return encode(v.Elem())
	case reflect.Struct:
		return encodeStruct(v)
	case reflect.Slice, reflect.Array:
		return encodeSlice(v)
	case reflect.Map:
		return encodeMap(v)
	}
	return encodeScalar(v)
}

func encodeStruct(v reflect.Value) (*yaml.Node, error) {
	var all orderedFields
	for _, f := range structFields(v.Type()).order {
		value := v.FieldByIndex(f.index)
		if isEmpty(value) && !f.required {
			continue
		}
		all = append(all, orderedField{f.name, value.Interface()})
	}
	return encodeFields(all)
}

// isEmpty says whether there is nothing to write.
func isEmpty(v reflect.Value) bool {
	if z, ok := v.Interface().(zeroer); ok {
		return z.IsZero()
	}
	switch v.Kind() {
	case reflect.Slice, reflect.Map:
		return v.Len() == 0
	}
	return v.IsZero()
}

func encodeFields(all orderedFields) (*yaml.Node, error) {
	n := &yaml.Node{Kind: yaml.MappingNode}
	for _, f := range all {
		key, err := encodeText(f.key)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", f.key, err)
		}
		value, err := encode(reflect.ValueOf(f.value))
		if err != nil {
			return nil, fmt.Errorf("%s: %w", f.key, err)
		}
		n.Content = append(n.Content, key, value)
	}
	return n, nil
}

func encodeSlice(v reflect.Value) (*yaml.Node, error) {
	n := &yaml.Node{Kind: yaml.SequenceNode}
	for i := range v.Len() {
		item, err := encode(v.Index(i))
		if err != nil {
			return nil, fmt.Errorf("item %d: %w", i+1, err)
		}
		n.Content = append(n.Content, item)
	}
	return n, nil
}

func encodeMap(v reflect.Value) (*yaml.Node, error) {
	var all orderedFields
	for _, key := range v.MapKeys() {
		if key.Kind() != reflect.String {
			return nil, fmt.Errorf("the keys of a file are strings")
		}
		all = append(all, orderedField{key.String(), v.MapIndex(key).Interface()})
	}
	sort.Slice(all, func(i, j int) bool { return all[i].key < all[j].key })
	return encodeFields(all)
}

func encodeScalar(v reflect.Value) (*yaml.Node, error) {
	switch v.Kind() {
	case reflect.String:
		return encodeText(v.String())
	case reflect.Bool:
		if v.Bool() {
			return plain("yes"), nil
		}
		return plain("no"), nil
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return plain(strconv.FormatInt(v.Int(), 10)), nil
	case reflect.Float32, reflect.Float64:
		if x := v.Float(); math.IsNaN(x) || math.IsInf(x, 0) {
			return nil, fmt.Errorf("the number %g is not finite", x)
		}
		return plain(strconv.FormatFloat(v.Float(), 'g', -1, 64)), nil
	}
	return nil, fmt.Errorf("a %s cannot be written", v.Type())
}

// isCount says whether a text is a whole number that reads back as it stands.
func isCount(s string) bool {
	const most = 9 // digits
	return s != "" && len(s) <= most && s[0] != '0' && strings.Trim(s, "0123456789") == ""
}

func plain(text string) *yaml.Node {
	return &yaml.Node{Kind: yaml.ScalarNode, Value: text}
}

// encodeText writes a string so that it reads back as the same string.
func encodeText(s string) (*yaml.Node, error) {
	if !utf8.ValidString(s) {
		return nil, fmt.Errorf("%q is not UTF-8", s)
	}
	if strings.IndexFunc(s, isForbidden) >= 0 {
		return nil, fmt.Errorf("%q contains a control character", s)
	}
	n := &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: s}
	if strings.ContainsAny(s, "\n\t") {
		n.Style = yaml.DoubleQuotedStyle
	}
	return n, nil
}

// encodeValue writes a tree as it was read.
func encodeValue(v *Value) (*yaml.Node, error) {
	switch v.Kind {
	case Null:
		return plain("null"), nil
	case Sequence:
		return encodeSlice(reflect.ValueOf(v.Items))
	case Mapping:
		var all orderedFields
		for _, f := range v.Fields {
			all = append(all, orderedField{f.Key, f.Value})
		}
		return encodeFields(all)
	}
	if !v.Quoted {
		return plain(v.Text), nil
	}
	return encodeText(v.Text)
}

// short is how many letters a collection may have to stand on one line.
const short = 88

// inline puts short collections on one line, as people write them. A list of
// mappings or lists has a line for each.
func inline(n *yaml.Node) {
	nested := n.Kind == yaml.SequenceNode && slices.ContainsFunc(n.Content, func(x *yaml.Node) bool { return x.Kind != yaml.ScalarNode })
	if len(n.Content) > 0 && !nested && letters(n) <= short {
		n.Style = yaml.FlowStyle
		return
	}
	for _, part := range n.Content {
		inline(part)
	}
}

// letters is how long a node is on one line, about.
func letters(n *yaml.Node) int {
	const around = 2 // a comma or a colon and a blank
	total := len(n.Value) + around
	for _, part := range n.Content {
		total += letters(part)
	}
	return total
}
