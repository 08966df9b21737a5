package assembly

import (
	"bytes"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"relath/kb"
	"relath/kb/strict"
)

// compiled is the schema as a validator that is not ours reads it.
func compiled(t *testing.T) *jsonschema.Schema {
	t.Helper()
	text, err := Schema()
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("house.json", doc); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("house.json")
	if err != nil {
		t.Fatal(err)
	}
	return schema
}

// plain turns a tree of strict values into what a JSON validator reads.
func plain(v *strict.Value) any {
	switch v.Kind {
	case strict.Mapping:
		m := make(map[string]any)
		for _, f := range v.Fields {
			m[f.Key] = plain(f.Value)
		}
		return m
	case strict.Sequence:
		list := make([]any, len(v.Items))
		for i, item := range v.Items {
			list[i] = plain(item)
		}
		return list
	case strict.Null:
		return nil
	}
	if n, err := strconv.ParseFloat(v.Text, 64); err == nil && !v.Quoted {
		return n
	}
	return v.Text
}

func instance(t *testing.T, name, text string) any {
	t.Helper()
	doc, problems := strict.Parse(name, []byte(text), strict.Limits{})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return plain(doc.Root)
}

func TestShippedHousesFitTheSchema(t *testing.T) {
	schema := compiled(t)
	houses := make(map[string]string)
	files, err := filepath.Glob("../../testdata/houses/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no houses: %v", err)
	}
	for _, file := range files {
		if strings.HasSuffix(file, ".expect.yaml") {
			continue
		}
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		houses[filepath.Base(file)] = string(text)
	}
	base, err := kb.Load(kb.Embedded())
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range base.Starters {
		houses["starter "+s.ID] = s.House
	}
	for name, text := range houses {
		if err := schema.Validate(instance(t, name, text)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// What Parse refuses for its shape the schema refuses too.
func TestSchemaRefusesWhatParseRefuses(t *testing.T) {
	schema := compiled(t)
	const good = `format: 1
house: Example
place: des-moines-ia
assemblies:
  - {name: a, kind: wall, between: [outdoors, room], layers: [{name: b, material: osb}]}
`
	if err := schema.Validate(instance(t, "good", good)); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, old, new string }{
		{"unknown key at the top", "house: Example", "house: Example\nhauses: 2"},
		{"missing place", "place: des-moines-ia\n", ""},
		{"unknown kind", "kind: wall", "kind: wal"},
		{"unknown side", "outdoors", "outside"},
		{"unknown key of a layer", "material: osb", "materials: osb"},
		{"layer without a name", "{name: b, material: osb}", "{material: osb}"},
		{"doubt of one", "material: osb", "material: {one-of: [osb]}"},
		{"text where a list belongs", "[{name: b, material: osb}]", "osb"},
	} {
		text := strings.Replace(good, c.old, c.new, 1)
		if err := schema.Validate(instance(t, c.name, text)); err == nil {
			t.Errorf("%s: the schema takes it", c.name)
		}
		if _, _, problems := Parse(c.name, []byte(text)); len(problems) == 0 {
			t.Errorf("%s: Parse takes it", c.name)
		}
	}
}
