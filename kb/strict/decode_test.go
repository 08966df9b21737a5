package strict

import (
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

const good = "\xEF\xBB\xBF# an invented wall\r\n" + `name: north wall
faces: north
area: 310 ft2
between: [outdoors, room]
layers:
  - name: siding
    thickness: 3/8 in
    sealed: no
    open: true
    zone: 5
  - {name: 010, count: -3, share: 2.5e-1, material: osb}
  - {name: null text, material: {one-of: [no, 3]}}
notes:
  made: 2026-01-01
  "5": |
    two
    lines
shares: {b: 2, a: 1}
when: {all: [{is: below}, 5, ~]}
`

func TestDecode(t *testing.T) {
	var w wall
	doc, problems := Load("good.yaml", []byte(good), Limits{}, &w)
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	at := func(line, column int) Pos { return Pos{"good.yaml", line, column} }
	no := false
	want := wall{
		named:   named{At: at(2, 1), Name: "north wall"},
		Faces:   "north",
		Area:    Text{"310 ft2", at(4, 7)},
		Between: []side{"outdoors", "room"},
		Layers: []layer{
			{named: named{at(7, 5), "siding"}, Thickness: Text{"3/8 in", at(8, 16)}, Sealed: &no, Open: true, Zone: "5"},
			{named: named{at(12, 5), "010"}, Count: -3, Share: 0.25, Material: choice{Word: "osb"}},
			{named: named{at(13, 5), "null text"}, Material: choice{OneOf: []string{"no", "3"}}},
		},
		Notes:  map[string]string{"made": "2026-01-01", "5": "two\nlines\n"},
		Shares: Ordered[float64]{{"b", at(19, 10), 2}, {"a", at(19, 16), 1}},
		When:   doc.Root.Get("when"),
	}
	if diff := cmp.Diff(want, w, cmp.AllowUnexported(wall{}, layer{}), cmpopts.IgnoreUnexported(Value{})); diff != "" {
		t.Errorf("decoded wall differs (-want +got):\n%s", diff)
	}
	if got, ok := w.Shares.Get("a"); !ok || got != 1 {
		t.Errorf("share a is %g, %t", got, ok)
	}
	if _, ok := w.Shares.Get("c"); ok {
		t.Error("there is a share c")
	}
	all := w.When.Get("all")
	if all == nil || len(all.Items) != 3 || all.Items[0].Get("is").Text != "below" || all.Items[2].Kind != Null {
		t.Errorf("the raw value is %+v", all)
	}
	if all.Get("x") != nil {
		t.Error("a list has a key")
	}
}

func TestLimits(t *testing.T) {
	nested := func(n int) string { return strings.Repeat("[", n) + strings.Repeat("]", n) }
	for _, c := range []struct {
		name, text string
		limits     Limits
		want       string // empty: no problem
	}{
		{"bytes", "a: 1", Limits{Bytes: 4}, ""},
		{"bytes", "a: 12", Limits{Bytes: 4}, "the file has 5 bytes; at most 4 are allowed"},
		{"default bytes", "a: " + strings.Repeat("x", 1<<20-3), Limits{}, ""},
		{"default bytes", "a: " + strings.Repeat("x", 1<<20-2), Limits{}, "at most 1048576 are allowed"},
		{"depth", nested(6), Limits{Depth: 5}, ""},
		{"depth", nested(7), Limits{Depth: 5}, "nested more than 5 deep"},
		{"default depth", nested(41), Limits{}, ""},
		{"default depth", nested(42), Limits{}, "nested more than 40 deep"},
		{"very deep", nested(9000), Limits{}, "nested more than 40 deep"},
		{"too deep for the library", strings.Repeat("[", 1<<20), Limits{}, "not valid YAML"},
		{"nodes", "[1, 2]", Limits{Nodes: 3}, ""},
		{"nodes", "[1, 2, 3]", Limits{Nodes: 3}, "more than 3 values and keys"},
		{"keys count", "{a: 1, b: 2}", Limits{Nodes: 4}, "more than 4 values and keys"},
		{"default nodes", "[" + strings.Repeat("1,", 250_000) + "]", Limits{}, "more than 200000 values and keys"},
	} {
		t.Run(c.name, func(t *testing.T) {
			doc, problems := Parse("x", []byte(c.text), c.limits)
			if c.want == "" {
				if err := problems.Err(); err != nil || doc == nil {
					t.Errorf("%v", err)
				}
				return
			}
			if len(problems) != 1 || !strings.Contains(problems[0].Message, c.want) || doc != nil {
				t.Errorf("got %d problems, want one with %q:\n%v", len(problems), c.want, problems)
			}
		})
	}
}

// A small file whose aliases would unfold to a thousand million values.
func TestAliasBomb(t *testing.T) {
	bomb := "a: &a [x, x, x, x, x, x, x, x, x, x]\n"
	for c := 'b'; c <= 'i'; c++ {
		last := string(c - 1)
		bomb += string(c) + ": &" + string(c) + " [" + strings.TrimSuffix(strings.Repeat("*"+last+", ", 10), ", ") + "]\n"
	}
	_, problems := Parse("bomb.yaml", []byte(bomb), Limits{})
	if len(problems) != 9 || !strings.Contains(problems[0].Message, `anchor "&a" is not allowed`) {
		t.Errorf("got\n%v", problems)
	}
}

func TestBytes(t *testing.T) {
	for _, c := range []struct {
		text, want   string
		line, column int
	}{
		{"", "the file is empty", 0, 0},
		{"\n\n", "the file is empty", 0, 0},
		{"\xEF\xBB\xBF", "the file is empty", 0, 0},
		{"---\n", "the document is empty", 2, 1},
		{"---", "the document is empty", 1, 4},
		{"a: 1\nb: \xff", "byte 0xFF is not UTF-8", 2, 4},
		{"é: \xc3", "byte 0xC3 is not UTF-8", 1, 4},
		{"\xff\xfea\x00", "the file is UTF-16", 0, 0},
		{"\xfe\xff\x00a", "the file is UTF-16", 0, 0},
		{"a: 1\nb: \x1b[31m", "control character U+001B is not allowed", 2, 4},
		{"a: \x00", "control character U+0000 is not allowed", 1, 4},
		{"a: 1\rb: 2", "a carriage return stands alone", 1, 5},
		{"a: 1\r", "a carriage return stands alone", 1, 5},
		{"a: 1\u0085b: 2", "control character U+0085 is not allowed", 1, 5},
		{"a: 1\u2028b: 2", "control character U+2028 is not allowed", 1, 5},
		{"a: \uFEFFb", "control character U+FEFF is not allowed", 1, 4},
	} {
		doc, problems := Parse("x", []byte(c.text), Limits{})
		if doc != nil || len(problems) != 1 {
			t.Errorf("%q gives %d problems: %v", c.text, len(problems), problems)
			continue
		}
		if p := problems[0]; p.Message != c.want || p.Line != c.line || p.Column != c.column {
			t.Errorf("%q gives %q at %d:%d, want %q at %d:%d", c.text, p.Message, p.Line, p.Column, c.want, c.line, c.column)
		}
		if text := problems.Error(); strings.ContainsAny(text, "\x00\x1b") {
			t.Errorf("the printed problem %q would steer a terminal", text)
		}
	}
}

// An untitled problem has no line; positions in another file bring no source of this one.
func TestProblemOfAnotherFile(t *testing.T) {
	doc, problems := Parse("a.yaml", []byte("a: 1\n"), Limits{})
	if err := problems.Err(); err != nil {
		t.Fatal(err)
	}
	if p := doc.Problem(Pos{"b.yaml", 1, 1}, "m", "h"); p.Source != "" || p.File != "b.yaml" {
		t.Errorf("got %+v", p)
	}
	if p := doc.Problem(Pos{Line: 1, Column: 4}, "m", "h"); p.Source != "a: 1" || p.File != "a.yaml" {
		t.Errorf("got %+v", p)
	}
	if p := doc.Problem(Pos{Line: 99, Column: 1}, "m", ""); p.Source != "" || p.String() != "a.yaml:99:1: m" {
		t.Errorf("got %+v, printed %q", p, p)
	}
	if got := (Pos{File: "f", Line: 3}).String(); got != "f:3" {
		t.Errorf("got %q", got)
	}
}

func TestProblemsSort(t *testing.T) {
	ps := Problems{
		{Pos: Pos{"b", 1, 1}, Message: "x"},
		{Pos: Pos{"a", 2, 1}, Message: "x"},
		{Pos: Pos{"a", 1, 9}, Message: "x"},
		{Pos: Pos{"a", 1, 2}, Message: "y"},
		{Pos: Pos{"a", 1, 2}, Message: "x"},
	}
	ps.Sort()
	var got []string
	for _, p := range ps {
		got = append(got, p.String())
	}
	want := []string{"a:1:2: x", "a:1:2: y", "a:1:9: x", "a:2:1: x", "b:1:1: x"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	many := make(Problems, maxPrinted+7)
	if text := many.Error(); !strings.HasSuffix(text, "\nand 7 more") {
		t.Errorf("the last line of many problems is %q", text[strings.LastIndex(text, "\n")+1:])
	}
	if Problems(nil).Err() != nil {
		t.Error("no problems are an error")
	}
}

// Mistakes in the program panic at once, with any file.
func TestDecodePanicsOnWrongTypes(t *testing.T) {
	type twice struct {
		A int `yaml:"a"`
		B int `yaml:"a"`
	}
	type badTag struct {
		A int `yaml:"a,flow"`
	}
	for _, target := range []any{
		wall{}, (*wall)(nil), new(func()), new(map[int]string), new(twice), new(badTag), new(complex128), new(uint),
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("decoding into %T does not panic", target)
				}
			}()
			v := Value{Kind: Mapping}
			if k := reflect.TypeOf(target).Elem; reflect.TypeOf(target).Kind() == reflect.Pointer && k().Kind() != reflect.Struct && k().Kind() != reflect.Map {
				v = Value{Kind: Scalar, Text: "1"}
			}
			v.Decode(target, func(Pos, string, string) {})
		}()
	}
}

func TestEncode(t *testing.T) {
	yes := true
	w := wall{
		named:   named{Name: "no"},
		Area:    Text{Value: "310 ft2"},
		Between: []side{"room", "ground"},
		Layers: []layer{
			{named: named{Name: "5"}, Thickness: Text{Value: `7/16"`}, Sealed: &yes, Zone: "5A"},
			{named: named{Name: ""}, Share: 1e-12, Material: choice{OneOf: []string{"a", "none"}}},
		},
		Notes:    map[string]string{"b": "~", "a": "two\nlines", "c": " x: y # z "},
		Shares:   Ordered[float64]{{Key: "z", Value: 1}, {Key: "a", Value: 0.5}},
		Ignored:  7,
		Untagged: 8,
	}
	const want = `name: no
area: 310 ft2
between: [room, ground]
layers:
  - {name: "5", thickness: 7/16", sealed: yes, zone: 5A}
  - {name: "", share: 1e-12, material: {one-of: [a, none]}}
notes: {a: "two\nlines", b: "~", c: ' x: y # z '}
shares: {z: 1, a: 0.5}
`
	data, err := Encode(w)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(want, string(data)); diff != "" {
		t.Errorf("encoded wall differs (-want +got):\n%s", diff)
	}
	var back wall
	if _, problems := Load("x", data, Limits{}, &back); len(problems) > 0 {
		t.Fatal(problems)
	}
	w.Ignored, w.Untagged = 0, 0
	if diff := cmp.Diff(w, back, cmp.AllowUnexported(wall{}, layer{}), cmpopts.IgnoreUnexported(Value{}), cmpopts.IgnoreTypes(Pos{})); diff != "" {
		t.Errorf("the wall that came back differs (-want +got):\n%s", diff)
	}
}
