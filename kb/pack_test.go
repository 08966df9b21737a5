package kb

import (
	"math"
	"reflect"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// packed is a value with every kind that the base uses.
type packed struct {
	Text  string
	Whole int
	Real  float64
	Is    bool
	One   *packed
	List  []packed
	Words []string
	Inner struct{ X, Y float64 }
}

// What is packed comes back, whatever the values; no bytes are left over.
func TestPackRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := drawPacked(t, 3)
		u := unpacker{rest: string(pack(nil, reflect.ValueOf(want)))}
		var got packed
		u.unpack(reflect.ValueOf(&got).Elem())
		if diff := cmp.Diff(want, got); diff != "" || u.failed || u.rest != "" {
			t.Fatalf("failed %v, %d bytes left (-packed +unpacked):\n%s", u.failed, len(u.rest), diff)
		}
	})
}

func drawPacked(t *rapid.T, depth int) packed {
	p := packed{
		Text: rapid.String().Draw(t, "text"), Whole: rapid.Int().Draw(t, "whole"), Is: rapid.Bool().Draw(t, "is"),
		Real: rapid.Float64Range(-math.MaxFloat64, math.MaxFloat64).Draw(t, "real"),
	}
	p.Inner.Y = rapid.Float64Range(0, 1).Draw(t, "y")
	if depth > 0 && rapid.Bool().Draw(t, "one") {
		one := drawPacked(t, depth-1)
		p.One = &one
	}
	for range rapid.IntRange(0, depth).Draw(t, "list") {
		p.List = append(p.List, drawPacked(t, depth-1))
	}
	for range rapid.IntRange(0, 2).Draw(t, "words") {
		p.Words = append(p.Words, rapid.String().Draw(t, "word"))
	}
	return p
}

// Any bytes give a base or a failure, never a panic or a hang: the checksum
// keeps such bytes out, but nothing must depend on that.
func FuzzUnpack(f *testing.F) {
	good := pack(nil, reflect.ValueOf(mustLoad(f, small(f))).Elem())
	f.Add(good)
	f.Add(good[:len(good)/2])
	f.Add([]byte{1, 255, 255, 255, 255, 255, 255, 255, 255, 127})
	f.Fuzz(func(t *testing.T, data []byte) {
		u := unpacker{rest: string(data)}
		var b Base
		u.unpack(reflect.ValueOf(&b).Elem())
		if u.failed {
			return
		}
		again := unpacker{rest: string(pack(nil, reflect.ValueOf(b)))}
		var c Base
		again.unpack(reflect.ValueOf(&c).Elem())
		if again.failed || again.rest != "" {
			t.Error("a base that was unpacked does not pack again")
		}
	})
}
