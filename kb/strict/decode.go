package strict

import (
	"fmt"
	"reflect"
	"sort"
)

// Unmarshaler is implemented by types that read a value in their own way, such as a field that is either a word or a
// list of choices. Call [Value.Decode] with the same report for the parts.
type Unmarshaler interface {
	UnmarshalNode(v *Value, report Report)
}

// Enum is implemented by string types with a closed list of words.
type Enum interface {
	Allowed() []string
}

var (
	unmarshalerType = reflect.TypeFor[Unmarshaler]()
	enumType        = reflect.TypeFor[Enum]()
	posType         = reflect.TypeFor[Pos]()
	valueType       = reflect.TypeFor[*Value]()
)

// Decode fills what ptr points at and reports every problem. It panics when ptr is no pointer or leads to a type that no
// file can fill, such as a func: that is a mistake in the program, not in the file.
func (v *Value) Decode(ptr any, report Report) {
	target := reflect.ValueOf(ptr)
	if target.Kind() != reflect.Pointer || target.IsNil() {
		panic(fmt.Sprintf("strict: decode into %T: a pointer is needed", ptr))
	}
	v.into(target.Elem(), report)
}

// into fills a settable target.
func (v *Value) into(target reflect.Value, report Report) {
	t := target.Type()
	switch {
	case t == valueType:
		target.Set(reflect.ValueOf(v))
		return
	case reflect.PointerTo(t).Implements(unmarshalerType):
		target.Addr().Interface().(Unmarshaler).UnmarshalNode(v, report)
		return
	case v.Kind == Null:
		report(v.Pos, "a value is missing", "write a value or remove the line")
		return
	}
	switch t.Kind() {
	case reflect.Pointer:
		target.Set(reflect.New(t.Elem()))
		v.into(target.Elem(), report)
	case reflect.Struct:
		v.intoStruct(target, report)
	case reflect.Slice:
		v.intoSlice(target, report)
	case reflect.Map:
		v.intoMap(target, report)
	default:
		v.intoScalar(target, report)
	}
}

// expect reports a value of another kind than the wanted one.
func (v *Value) expect(k Kind, report Report) bool {
	if v.Kind == k {
		return true
	}
	found := v.Kind.String()
	if v.Kind == Scalar {
		found = fmt.Sprintf("%q", clip(v.Text))
	}
	report(v.Pos, fmt.Sprintf("expected %s, found %s", k, found), "")
	return false
}

// clip shortens a text for a message.
func clip(s string) string {
	const longest = 60
	if r := []rune(s); len(r) > longest {
		return string(r[:longest]) + "…"
	}
	return s
}

func (v *Value) intoSlice(target reflect.Value, report Report) {
	if !v.expect(Sequence, report) {
		return
	}
	list := reflect.MakeSlice(target.Type(), len(v.Items), len(v.Items))
	for i, item := range v.Items {
		item.into(list.Index(i), report)
	}
	target.Set(list)
}

func (v *Value) intoMap(target reflect.Value, report Report) {
	t := target.Type()
	if t.Key().Kind() != reflect.String {
		panic(fmt.Sprintf("strict: decode into %s: the keys of a file are strings", t))
	}
	if !v.expect(Mapping, report) {
		return
	}
	m := reflect.MakeMapWithSize(t, len(v.Fields))
	for _, f := range v.Fields {
		key := reflect.New(t.Key()).Elem()
		(&Value{Kind: Scalar, Pos: f.Pos, Text: f.Key, types: v.types}).into(key, report)
		element := reflect.New(t.Elem()).Elem()
		f.Value.into(element, report)
		m.SetMapIndex(key, element)
	}
	target.Set(m)
}

func (v *Value) intoStruct(target reflect.Value, report Report) {
	if !v.expect(Mapping, report) {
		return
	}
	known := v.types.fields(target.Type())
	given := map[string]bool{}
	for _, f := range v.Fields {
		given[f.Key] = true
		field, ok := known.named[f.Key]
		if !ok {
			report(f.Pos, fmt.Sprintf("unknown field %q", clip(f.Key)), AllowedHint(f.Key, known.names()))
			continue
		}
		if f.Value.Kind == Null && target.FieldByIndex(field.index).Type() != valueType {
			report(f.Pos, fmt.Sprintf("field %q has no value", f.Key), "write a value or remove the line")
			continue
		}
		f.Value.into(target.FieldByIndex(field.index), report)
	}
	for _, field := range known.order {
		if field.required && !given[field.name] {
			report(v.Pos, fmt.Sprintf("field %q is missing", field.name), "")
		}
	}
	for _, index := range known.positions {
		target.FieldByIndex(index).Set(reflect.ValueOf(v.Pos))
	}
}

// names lists the fields in alphabetical order.
func (f *fields) names() []string {
	all := make([]string, 0, len(f.named))
	for name := range f.named {
		all = append(all, name)
	}
	sort.Strings(all)
	return all
}
