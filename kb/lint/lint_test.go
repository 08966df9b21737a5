package lint

import (
	"flag"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"

	"relath/kb"
)

var update = flag.Bool("update", false, "rewrite the wanted problems")

// small gives the small base of the tests of kb with some files replaced.
func small(t *testing.T, files []txtar.File) fs.FS {
	t.Helper()
	tree := fstest.MapFS{}
	root := os.DirFS("../testdata/small")
	err := fs.WalkDir(root, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(root, p)
		tree[p] = &fstest.MapFile{Data: data}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		tree[f.Name] = &fstest.MapFile{Data: f.Data}
	}
	return tree
}

// lintArchive gives the problems of the small base with the files of an
// archive, one a line, and what its last file wants.
func lintArchive(t *testing.T, name string) (archive *txtar.Archive, got string) {
	t.Helper()
	archive, err := txtar.ParseFile(name)
	if err != nil {
		t.Fatal(err)
	}
	last := len(archive.Files) - 1
	if last < 0 || archive.Files[last].Name != "want" {
		t.Fatal(`the last file of the archive must be "want"`)
	}
	b, err := kb.Load(small(t, archive.Files[:last]))
	if err != nil {
		t.Fatalf("the archive must load:\n%v", err)
	}
	for _, p := range Check(b) {
		got += p.String() + "\n"
	}
	return archive, got
}

// Each archive changes one thing of the small base. Its name begins with the
// check that it is about; where it ends in -ok nothing must be said.
func TestGolden(t *testing.T) {
	names, err := filepath.Glob("testdata/*.txtar")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		label := strings.TrimSuffix(filepath.Base(name), ".txtar")
		t.Run(label, func(t *testing.T) {
			archive, got := lintArchive(t, name)
			want := &archive.Files[len(archive.Files)-1]
			if *update {
				want.Data = []byte(got)
				if err := os.WriteFile(name, txtar.Format(archive), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			if diff := cmp.Diff(string(want.Data), got); diff != "" {
				t.Errorf("problems (-want +got):\n%s", diff)
			}
			if isOK := strings.HasSuffix(label, "-ok"); isOK != (got == "") {
				t.Errorf("got %q; only the archives that end in -ok are silent", got)
			}
		})
	}
}

// Every check has an archive that it speaks about and one that it does not.
func TestEveryCheckHasGoldenFiles(t *testing.T) {
	for _, c := range checks() {
		breaks, err := filepath.Glob("testdata/" + c.name + "-*.txtar")
		if err != nil {
			t.Fatal(err)
		}
		silent := slices.DeleteFunc(slices.Clone(breaks), func(n string) bool { return !strings.HasSuffix(n, "-ok.txtar") })
		if len(silent) == 0 || len(silent) == len(breaks) {
			t.Errorf("check %s: archives %v; want at least one that breaks and one that ends in -ok", c.name, breaks)
		}
		for _, name := range breaks {
			if _, got := lintArchive(t, name); !strings.HasSuffix(name, "-ok.txtar") && !strings.Contains(got, "["+c.name+"]\n") {
				t.Errorf("%s: check %s says nothing:\n%s", name, c.name, got)
			}
		}
		if c.about == "" {
			t.Errorf("check %s does not say what it is about", c.name)
		}
	}
}

// The small base itself is clean.
func TestSmallBaseIsClean(t *testing.T) {
	b, err := kb.Load(small(t, nil))
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range Check(b) {
		t.Error(p)
	}
}

// What a folder lays over the base is held to the same, and found in its file.
func TestOverlayIsLinted(t *testing.T) {
	mine := fstest.MapFS{"materials/board/my-board.yaml": {Data: []byte(`id: my-board
name: My board
family: board
summary: A board of one's own.
form: board
thickness: {usual: 1/2 in}
values:
  - {property: conductivity, value: 0.16 W/mK, source: example-handbook, locator: p. 1, evidence: read}
  - {property: thermal-resistance, value: 3 m2K/W, at: {thickness: 1/2 in}, source: example-handbook, locator: p. 2, evidence: read}
`)}}
	b, err := kb.Load(small(t, nil), mine)
	if err != nil {
		t.Fatal(err)
	}
	problems := Check(b)
	if len(problems) != 1 || problems[0].Check != "thermal" || problems[0].File != "overlay-1/materials/board/my-board.yaml" {
		t.Errorf("problems %v; want one of the check thermal in the folder", problems)
	}
}

// The shipped base has no problem. A base that does not load is reported by the
// tests of kb.
func TestEmbeddedBaseIsClean(t *testing.T) {
	b, err := kb.Load(kb.Embedded())
	if err != nil {
		t.Fatalf("the embedded base does not load:\n%v", err)
	}
	for _, p := range Check(b) {
		t.Error(p)
	}
}
