package lint

import (
	"reflect"

	"relath/kb"
	"relath/kb/strict"
)

// entries visits every entry that has an id.
func entries(b *kb.Base, visit func(sort, id string, pos strict.Pos)) {
	whole := reflect.ValueOf(b).Elem()
	for f := range whole.NumField() {
		list := whole.Field(f)
		if list.Kind() != reflect.Slice {
			continue
		}
		for i := range list.Len() {
			entry := reflect.Indirect(list.Index(i))
			if entry.Kind() != reflect.Struct || !entry.FieldByName("ID").IsValid() || !entry.FieldByName("Pos").IsValid() {
				continue
			}
			visit(whole.Type().Field(f).Name, entry.FieldByName("ID").String(), entry.FieldByName("Pos").Interface().(strict.Pos))
		}
	}
}

// text is a string of the base with the field it stands in and the nearest
// position above it.
type text struct {
	field string
	value string
	pos   strict.Pos
}

// texts visits every string below a value but those in the fields left out.
func texts(v any, leaveOut map[string]bool, visit func(text)) {
	walk(reflect.ValueOf(v), "", strict.Pos{}, func(field string, v reflect.Value, at strict.Pos) bool {
		if leaveOut[field] {
			return false
		}
		if v.Kind() == reflect.String {
			visit(text{field, v.String(), at})
		}
		return true
	})
}

// bases visits every statement of a source, with the nearest position above it.
func bases(b *kb.Base, visit func(kb.Basis, strict.Pos)) {
	walk(reflect.ValueOf(b), "", strict.Pos{}, func(_ string, v reflect.Value, at strict.Pos) bool {
		if v.Type() != reflect.TypeFor[kb.Basis]() {
			return true
		}
		if basis := v.Interface().(kb.Basis); basis.Source != "" {
			visit(basis, at)
		}
		return false
	})
}

// walk visits a value and, where the visit says so, everything below it, with
// the name of the field and the nearest position above.
func walk(v reflect.Value, field string, at strict.Pos, visit func(string, reflect.Value, strict.Pos) bool) {
	if !visit(field, v, at) {
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			walk(v.Elem(), field, at, visit)
		}
	case reflect.Slice:
		for i := range v.Len() {
			walk(v.Index(i), field, at, visit)
		}
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[strict.Pos]() {
			return
		}
		if pos := v.FieldByName("Pos"); pos.IsValid() && !pos.IsZero() {
			at = pos.Interface().(strict.Pos)
		}
		for i := range v.NumField() {
			walk(v.Field(i), v.Type().Field(i).Name, at, visit)
		}
	}
}
