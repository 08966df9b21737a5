package kb

import (
	"encoding/binary"
	"fmt"
	"math"
	"reflect"
)

// Packing writes the fields of a value one after the other, without names or
// types: only the build that packed can unpack, which is what the cache wants.
// At a start of the program it takes less than half the time of encoding/gob,
// mainly because all strings stay parts of the one text that was read.
//
//	string   length, bytes
//	int      as a varint
//	float64  8 bytes
//	pointer  0, or 1 and the value
//	slice    length, elements
//	struct   0 when all is zero, or 1 and the fields

// pack appends a value. It panics on a kind that the base does not use: a
// mistake in the types, not in the data.
func pack(out []byte, v reflect.Value) []byte {
	switch v.Kind() {
	case reflect.String:
		out = binary.AppendUvarint(out, uint64(v.Len()))
		return append(out, v.String()...)
	case reflect.Bool:
		return append(out, presence(v.Bool()))
	case reflect.Int:
		return binary.AppendVarint(out, v.Int())
	case reflect.Float64:
		return binary.LittleEndian.AppendUint64(out, math.Float64bits(v.Float()))
	case reflect.Pointer:
		out = append(out, presence(!v.IsNil()))
		if !v.IsNil() {
			out = pack(out, v.Elem())
		}
		return out
	case reflect.Slice:
		out = binary.AppendUvarint(out, uint64(v.Len()))
		for i := range v.Len() {
			out = pack(out, v.Index(i))
		}
		return out
	case reflect.Struct:
		out = append(out, presence(!v.IsZero()))
		for i := 0; i < v.NumField() && !v.IsZero(); i++ {
			out = pack(out, v.Field(i))
		}
		return out
	}
	panic(fmt.Sprintf("kb: a %s cannot be packed", v.Type()))
}

func presence(is bool) byte {
	if is {
		return 1
	}
	return 0
}

// unpacker reads what pack has written. It stops where the text does not fit.
type unpacker struct {
	rest   string
	failed bool
}

// unpack fills a value that is zero.
func (u *unpacker) unpack(v reflect.Value) {
	switch v.Kind() {
	case reflect.String:
		v.SetString(u.take(u.length()))
	case reflect.Bool:
		v.SetBool(u.present())
	case reflect.Int:
		x := u.uvarint()
		v.SetInt(int64(x>>1) ^ -int64(x&1))
	case reflect.Float64:
		v.SetFloat(u.float())
	case reflect.Pointer:
		if u.present() {
			v.Set(reflect.New(v.Type().Elem()))
			u.unpack(v.Elem())
		}
	case reflect.Slice:
		if n := u.length(); n > 0 {
			v.Set(reflect.MakeSlice(v.Type(), n, n))
		}
		for i := 0; i < v.Len() && !u.failed; i++ {
			u.unpack(v.Index(i))
		}
	case reflect.Struct:
		if !u.present() {
			return
		}
		for i := 0; i < v.NumField() && !u.failed; i++ {
			u.unpack(v.Field(i))
		}
	}
}

// take cuts off n bytes.
func (u *unpacker) take(n int) string {
	if n > len(u.rest) {
		u.failed, u.rest = true, ""
		return ""
	}
	text := u.rest[:n]
	u.rest = u.rest[n:]
	return text
}

// length reads a length, of which at least as many bytes must follow: no
// element takes less than one.
func (u *unpacker) length() int {
	n := u.uvarint()
	if n > uint64(len(u.rest)) {
		u.failed, u.rest = true, ""
		return 0
	}
	return int(n)
}

func (u *unpacker) present() bool { return u.take(1) == "\x01" }

func (u *unpacker) uvarint() uint64 {
	x := uint64(0)
	for shift := 0; shift < 64; shift += 7 {
		b := u.take(1)
		if b == "" {
			return 0
		}
		x |= uint64(b[0]&0x7f) << shift
		if b[0] < 0x80 {
			return x
		}
	}
	u.failed, u.rest = true, ""
	return 0
}

func (u *unpacker) float() float64 {
	bits := uint64(0)
	for i, b := range []byte(u.take(8)) {
		bits |= uint64(b) << (8 * i)
	}
	return math.Float64frombits(bits)
}
