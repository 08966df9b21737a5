package strict

import (
	"fmt"
	"reflect"
	"strings"
	"sync"
)

// field is one field of a struct that a file can name.
type field struct {
	name     string
	index    []int
	required bool
}

// fields are the fields of a struct, those of embedded structs among them.
type fields struct {
	order     []field
	named     map[string]field
	positions [][]int // fields of type Pos with the option pos
}

// types remembers the fields of struct types, for all values that were read together.
type types struct{ known sync.Map }

// fields gives the fields of a struct type. A value that was made by hand has no memory.
func (k *types) fields(t reflect.Type) *fields {
	if k == nil {
		return structFields(t)
	}
	if f, ok := k.known.Load(t); ok {
		return f.(*fields)
	}
	f := structFields(t)
	k.known.Store(t, f)
	return f
}

// structFields reads the yaml tags of a struct: "name", "name,required", "name,omitempty", ",pos", ",inline" and "-".
// An embedded struct without a tag counts as inline; any other field without a tag, and an unexported field, is left alone.
func structFields(t reflect.Type) *fields {
	f := &fields{named: map[string]field{}}
	f.collect(t, nil)
	return f
}

func (f *fields) collect(t reflect.Type, above []int) {
	for i := range t.NumField() {
		sf := t.Field(i)
		index := append(append([]int(nil), above...), i)
		tag, tagged := sf.Tag.Lookup("yaml")
		name, option, _ := strings.Cut(tag, ",")
		switch {
		case name == "-", !tagged && !sf.Anonymous, !sf.IsExported() && !sf.Anonymous:
		case option == "pos" && sf.Type == posType:
			f.positions = append(f.positions, index)
		case sf.Type.Kind() == reflect.Struct && (option == "inline" || sf.Anonymous && !tagged):
			f.collect(sf.Type, index)
		case name == "" || option != "" && option != "required" && option != "omitempty":
			panic(fmt.Sprintf("strict: %s.%s: tag %q is not known", t, sf.Name, tag))
		default:
			f.add(t, field{name: name, index: index, required: option == "required"})
		}
	}
}

func (f *fields) add(t reflect.Type, one field) {
	if _, twice := f.named[one.name]; twice {
		panic(fmt.Sprintf("strict: %s: field %q is defined twice", t, one.name))
	}
	f.order = append(f.order, one)
	f.named[one.name] = one
}
