package kb

import (
	"encoding/binary"
	"fmt"
	"math"
	"math/bits"
	"reflect"
)

// Packing writes the fields of a value one after the other, without names or
// types: only the build that packed can unpack, which is what the cache wants.
// At a start of the program it takes a quarter of the time of encoding/gob,
// mainly because all strings stay parts of the one text that was read, and most
// fields of the base are zero and cost nothing.
//
//	string   its place among all strings, which come first, each once
//	int      as a varint
//	float64  8 bytes
//	pointer  0, or 1 and the value
//	slice    length, elements
//	struct   a bit for each field that is not zero, as a uvarint, and these fields

// packed gives the strings of a value and the value.
func packed(v reflect.Value) []byte {
	p := packer{places: map[string]uint64{}}
	p.pack(v)
	text := binary.AppendUvarint(nil, uint64(len(p.strings)))
	for _, s := range p.strings {
		text = binary.AppendUvarint(text, uint64(len(s)))
		text = append(text, s...)
	}
	return append(text, p.out...)
}

// packer writes a value and notes its strings.
type packer struct {
	out     []byte
	strings []string
	places  map[string]uint64
}

// pack appends a value. It panics on a kind that the base does not use: a
// mistake in the types, not in the data.
func (p *packer) pack(v reflect.Value) {
	switch v.Kind() {
	case reflect.String:
		p.uvarint(p.place(v.String()))
	case reflect.Bool:
		p.uvarint(presence(v.Bool()))
	case reflect.Int:
		p.out = binary.AppendVarint(p.out, v.Int())
	case reflect.Float64:
		p.out = binary.LittleEndian.AppendUint64(p.out, math.Float64bits(v.Float()))
	case reflect.Pointer:
		p.uvarint(presence(!v.IsNil()))
		if !v.IsNil() {
			p.pack(v.Elem())
		}
	case reflect.Slice:
		p.uvarint(uint64(v.Len()))
		for i := range v.Len() {
			p.pack(v.Index(i))
		}
	case reflect.Struct:
		fields := nonzero(v)
		p.uvarint(fields)
		for ; fields != 0; fields &= fields - 1 {
			p.pack(v.Field(bits.TrailingZeros64(fields)))
		}
	default:
		panic(fmt.Sprintf("kb: a %s cannot be packed", v.Type()))
	}
}

func (p *packer) uvarint(x uint64) { p.out = binary.AppendUvarint(p.out, x) }

// place gives the place of a string among all.
func (p *packer) place(s string) uint64 {
	place, known := p.places[s]
	if !known {
		place = uint64(len(p.strings))
		p.places[s] = place
		p.strings = append(p.strings, s)
	}
	return place
}

// nonzero has a bit for each field of a struct that is not zero.
func nonzero(v reflect.Value) uint64 {
	if v.NumField() > 64 {
		panic(fmt.Sprintf("kb: a %s has more than 64 fields", v.Type()))
	}
	fields := uint64(0)
	for i := range v.NumField() {
		if !v.Field(i).IsZero() {
			fields |= 1 << i
		}
	}
	return fields
}

func presence(is bool) uint64 {
	if is {
		return 1
	}
	return 0
}

// unpacked fills a value that is zero with what was packed, and says whether
// the text fits.
func unpacked(text string, v reflect.Value) bool {
	u := unpacker{rest: text}
	u.strings = make([]string, u.length())
	for i := range u.strings {
		u.strings[i] = u.take(u.length())
	}
	u.unpack(v)
	return !u.failed && u.rest == ""
}

// unpacker reads what packer has written. It stops where the text does not fit.
type unpacker struct {
	strings []string
	rest    string
	failed  bool
}

func (u *unpacker) unpack(v reflect.Value) {
	switch v.Kind() {
	case reflect.String:
		v.SetString(u.string())
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
			v.Grow(n)
			v.SetLen(n)
		}
		for i := 0; i < v.Len() && !u.failed; i++ {
			u.unpack(v.Index(i))
		}
	case reflect.Struct:
		fields := u.uvarint()
		if bits.Len64(fields) > v.NumField() {
			u.fail()
		}
		for ; fields != 0 && !u.failed; fields &= fields - 1 {
			u.unpack(v.Field(bits.TrailingZeros64(fields)))
		}
	}
}

func (u *unpacker) fail() { u.failed, u.rest = true, "" }

// take cuts off n bytes.
func (u *unpacker) take(n int) string {
	if n > len(u.rest) {
		u.fail()
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
		u.fail()
		return 0
	}
	return int(n)
}

func (u *unpacker) string() string {
	place := u.uvarint()
	if place >= uint64(len(u.strings)) {
		u.fail()
		return ""
	}
	return u.strings[place]
}

func (u *unpacker) present() bool { return u.take(1) == "\x01" }

func (u *unpacker) uvarint() uint64 {
	if len(u.rest) > 0 && u.rest[0] < 0x80 { // nearly always
		x := u.rest[0]
		u.rest = u.rest[1:]
		return uint64(x)
	}
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
	u.fail()
	return 0
}

func (u *unpacker) float() float64 {
	b := u.take(8)
	if u.failed {
		return 0
	}
	low := uint64(b[0]) | uint64(b[1])<<8 | uint64(b[2])<<16 | uint64(b[3])<<24
	return math.Float64frombits(low | uint64(b[4])<<32 | uint64(b[5])<<40 | uint64(b[6])<<48 | uint64(b[7])<<56)
}
