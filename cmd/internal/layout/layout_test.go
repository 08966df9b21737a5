package layout

import (
	"bufio"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

const module = "relath/"

// root finds the folder of go.mod.
func root(t *testing.T) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		dir = filepath.Dir(dir)
	}
}

// blocks gives the fenced blocks of DEVELOPERS.md by the word after the fence.
func block(t *testing.T, name string) []string {
	t.Helper()
	f, err := os.Open(filepath.Join(root(t), "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var lines []string
	in := false
	scan := bufio.NewScanner(f)
	for scan.Scan() {
		switch line := scan.Text(); {
		case line == "```"+name:
			in = true
		case in && line == "```":
			return lines
		case in && strings.TrimSpace(line) != "":
			lines = append(lines, line)
		}
	}
	t.Fatalf("DEVELOPERS.md has no block %q", name)
	return nil
}

// names splits "a, b" and gives the full import paths.
func names(text string) []string {
	var list []string
	for _, name := range strings.Split(text, ",") {
		if name = strings.TrimSpace(name); name != "" && name != "-" && name != "nothing of ours" {
			list = append(list, name)
		}
	}
	return list
}

type listed struct {
	ImportPath string
	Imports    []string
}

// packages asks the go command for every package and what it imports, tests
// left out.
func packages(t *testing.T) []listed {
	t.Helper()
	cmd := exec.Command("go", "list", "-json=ImportPath,Imports", "./...")
	cmd.Dir = root(t)
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var list []listed
	for dec := json.NewDecoder(strings.NewReader(string(out))); dec.More(); {
		var p listed
		if err := dec.Decode(&p); err != nil {
			t.Fatal(err)
		}
		list = append(list, p)
	}
	return list
}

// TestImports holds every package to the table of allowed imports.
func TestImports(t *testing.T) {
	allowed := make(map[string][]string)
	for _, line := range block(t, "imports") {
		left, right, ok := strings.Cut(line, "->")
		if !ok {
			t.Fatalf("the line %q of the import table has no arrow", line)
		}
		for _, name := range names(left) {
			allowed[name] = names(right)
		}
	}
	for _, p := range packages(t) {
		name := strings.TrimPrefix(p.ImportPath, module)
		may, known := allowed[name]
		if !known {
			t.Errorf("package %s is not in the import table of DEVELOPERS.md", name)
			continue
		}
		delete(allowed, name)
		for _, path := range p.Imports {
			ours, isOurs := strings.CutPrefix(path, module)
			if isOurs && ours != "kb/quantity" && !slices.Contains(may, ours) {
				t.Errorf("package %s imports %s; the table allows %v", name, ours, may)
			}
		}
	}
	for name := range allowed {
		t.Errorf("the import table names %s, which is no package", name)
	}
}

// TestThirdParties holds libraries to the one room that DEVELOPERS.md gives
// them.
func TestThirdParties(t *testing.T) {
	rooms := make(map[string][]string)
	for _, line := range block(t, "third-parties") {
		left, right, ok := strings.Cut(line, "->")
		if !ok {
			t.Fatalf("the line %q has no arrow", line)
		}
		rooms[strings.TrimSpace(left)] = names(right)
	}
	for _, p := range packages(t) {
		name := strings.TrimPrefix(p.ImportPath, module)
		for _, path := range p.Imports {
			if !strings.Contains(strings.Split(path, "/")[0], ".") {
				continue
			}
			at := slices.IndexFunc(sorted(rooms), func(lib string) bool { return strings.HasPrefix(path, lib) })
			if at < 0 {
				t.Errorf("package %s imports %s, which no line of the table names", name, path)
			} else if lib := sorted(rooms)[at]; !slices.Contains(rooms[lib], name) {
				t.Errorf("package %s imports %s, whose room is %v", name, path, rooms[lib])
			}
		}
	}
}

func sorted(rooms map[string][]string) []string {
	var list []string
	for lib := range rooms {
		list = append(list, lib)
	}
	slices.Sort(list)
	return list
}

// TestTopLevel holds the top level to the fixed one.
func TestTopLevel(t *testing.T) {
	entries, err := os.ReadDir(root(t))
	if err != nil {
		t.Fatal(err)
	}
	fixed := []string{"DEVELOPERS.md", "README.md", "advisor", "cmd", "go.mod", "go.sum", "index", "kb", "testdata"}
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") && !slices.Contains(fixed, e.Name()) {
			t.Errorf("%s does not belong on the top level; it is exactly %v and hidden files", e.Name(), fixed)
		}
	}
}
