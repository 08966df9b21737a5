package kb

import (
	"fmt"
	"io/fs"
	"path"
	"runtime"
	"slices"
	"strings"
	"sync"

	"relath/kb/strict"
)

// Load reads a base and the folders laid over it, in order: an entry of a later
// folder replaces the entry of the same id. It checks everything that a single
// entry and its references can be checked for: unknown files and keys, closed
// words, units and dimensions, ids against file names, references between
// entries. The error is a [strict.Problems] with every problem of every file.
func Load(base fs.FS, overlays ...fs.FS) (*Base, error) {
	trees := []tree{{files: base}}
	for i, o := range overlays {
		trees = append(trees, tree{files: o, name: fmt.Sprintf("overlay-%d/", i+1)})
	}
	files, err := readTrees(trees)
	if err != nil {
		return nil, err
	}
	return build(files)
}

// tree is a data folder; name is put before its paths in messages.
type tree struct {
	files fs.FS
	name  string
}

// file is one file of a data folder.
type file struct {
	tree    int
	path    string // within the folder
	name    string // as shown
	data    []byte
	problem string // why it was not read
}

// maxFiles bounds what a folder may hold, so that a wrong folder is noticed.
const maxFiles = 20_000

// walkTrees visits all files of all folders, sorted by path within each. Names
// that begin with a dot are left out, as they are from the embedded data.
func walkTrees(trees []tree, visit func(fs.FS, file) error) error {
	count := 0
	for i, t := range trees {
		err := fs.WalkDir(t.files, ".", func(p string, d fs.DirEntry, err error) error {
			switch {
			case err != nil:
				return err
			case p != "." && strings.HasPrefix(d.Name(), "."):
				return hidden(d)
			case d.IsDir():
				return nil
			case count == maxFiles:
				return fmt.Errorf("more than %d files", maxFiles)
			}
			count++
			f := file{tree: i, path: p, name: t.name + p}
			if err := f.look(t.files, d); err != nil {
				return err
			}
			return visit(t.files, f)
		})
		if err != nil {
			return fmt.Errorf("data folder %q: %w", t.name, err)
		}
	}
	return nil
}

// readTrees reads all files.
func readTrees(trees []tree) ([]file, error) {
	var all []file
	err := walkTrees(trees, func(from fs.FS, f file) error {
		var err error
		if f.problem == "" {
			f.data, err = fs.ReadFile(from, f.path)
		}
		all = append(all, f)
		return err
	})
	return all, err
}

// hidden tells the walk to go on after a hidden file or folder.
func hidden(d fs.DirEntry) error {
	if d.IsDir() {
		return fs.SkipDir
	}
	return nil
}

// maxBytes is the largest size of a file.
const maxBytes = 1 << 20

// look finds out whether a file can be read.
func (f *file) look(from fs.FS, d fs.DirEntry) error {
	info, err := d.Info()
	if err == nil && info.Mode()&fs.ModeSymlink != 0 {
		info, err = fs.Stat(from, f.path)
	}
	switch {
	case err != nil:
		return err
	case !info.Mode().IsRegular():
		f.problem = "this is no regular file"
	case info.Size() > maxBytes:
		f.problem = fmt.Sprintf("the file has %d bytes; at most %d are allowed", info.Size(), maxBytes)
	}
	return nil
}

// part is what one file holds.
type part struct {
	file     file
	doc      *strict.Document
	base     Base
	problems strict.Problems
}

// build decodes, merges, resolves and checks.
func build(files []file) (*Base, error) {
	parts := decodeAll(files)
	l := &loader{base: &Base{Version: versionOf(files)}, docs: map[string]*strict.Document{}}
	for i := range parts {
		l.problems = append(l.problems, parts[i].problems...)
		if parts[i].doc != nil {
			l.docs[parts[i].file.name] = parts[i].doc
		}
	}
	l.merge(parts)
	l.index()
	l.resolve()
	l.check()
	if len(l.problems) > 0 {
		l.problems.Sort()
		return nil, slices.Compact(l.problems)
	}
	return l.base, nil
}

// decodeAll decodes the files on all processors.
func decodeAll(files []file) []part {
	reader := strict.NewReader(strict.Limits{Bytes: maxBytes})
	parts := make([]part, len(files))
	next := make(chan int)
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for i := range next {
				parts[i] = decodeFile(reader, files[i])
			}
		})
	}
	for i := range files {
		next <- i
	}
	close(next)
	wait.Wait()
	return parts
}

func decodeFile(reader *strict.Reader, f file) part {
	p := part{file: f}
	kind := kindOf(f.path)
	if kind == nil {
		f.problem = "this file has no place in the base"
	}
	if f.problem != "" {
		p.problems = strict.Problems{{Pos: strict.Pos{File: f.name}, Message: f.problem, Hint: "the base is made of " + placeNames()}}
		return p
	}
	p.doc, p.problems = reader.Parse(f.name, f.data)
	if p.doc != nil {
		p.problems = kind.decode(p.doc, &p.base)
	}
	return p
}

// kind is a sort of files: where they lie and how they are read.
type kind struct {
	pattern string
	decode  func(*strict.Document, *Base) strict.Problems
}

// kinds lists the files of a data folder.
var kinds = []kind{
	{"materials/*/*.yaml", one(func(b *Base) *[]*Material { return &b.Materials })},
	{"coatings/*.yaml", one(func(b *Base) *[]*Material { return &b.Materials })},
	{"systems/*.yaml", one(func(b *Base) *[]*System { return &b.Systems })},
	{"swaps/*.yaml", one(func(b *Base) *[]*Recipe { return &b.Recipes })},
	{"rules/*.yaml", one(func(b *Base) *[]*Rule { return &b.Rules })},
	{"codes/*.yaml", one(func(b *Base) *[]*Table { return &b.Tables })},
	{"lookups/*.yaml", one(func(b *Base) *[]*Lookup { return &b.Lookups })},
	{"places/*.yaml", one(func(b *Base) *[]*Place { return &b.Places })},
	{"cautions/*.yaml", one(func(b *Base) *[]*Caution { return &b.Cautions })},
	{"measurements/*.yaml", one(func(b *Base) *[]*Measurement { return &b.Measurements })},
	{"starters/*.yaml", one(func(b *Base) *[]*Starter { return &b.Starters })},
	{"properties.yaml", list(func(b *Base) *[]*Property { return &b.Properties })},
	{"terms.yaml", list(func(b *Base) *[]*Term { return &b.Terms })},
	{"facts.yaml", list(func(b *Base) *[]*Fact { return &b.Facts })},
	{"models.yaml", list(func(b *Base) *[]*Model { return &b.Models })},
	{"assumptions.yaml", list(func(b *Base) *[]*Assumption { return &b.Assumptions })},
	{"sources.yaml", list(func(b *Base) *[]*Source { return &b.Sources })},
	{"sources/*.yaml", list(func(b *Base) *[]*Source { return &b.Sources })},
	{"prices.yaml", list(func(b *Base) *[]*Price { return &b.Prices })},
	{"synonyms.yaml", func(doc *strict.Document, b *Base) strict.Problems { return doc.Decode(&b.Synonyms) }},
	{"duties.yaml", decodeDuties},
}

// one reads a file that holds one entry.
func one[T any](list func(*Base) *[]*T) func(*strict.Document, *Base) strict.Problems {
	return func(doc *strict.Document, b *Base) strict.Problems {
		entry := new(T)
		*list(b) = []*T{entry}
		return doc.Decode(entry)
	}
}

// list reads a file that holds a list of entries.
func list[T any](list func(*Base) *[]*T) func(*strict.Document, *Base) strict.Problems {
	return func(doc *strict.Document, b *Base) strict.Problems {
		return doc.Decode(list(b))
	}
}

// decodeDuties reads the duties and what each kind of assembly must have.
func decodeDuties(doc *strict.Document, b *Base) strict.Problems {
	var both struct {
		Duties   []*Duty        `yaml:"duties,required"`
		Required []*Requirement `yaml:"required"`
	}
	problems := doc.Decode(&both)
	b.Duties, b.Requirements = both.Duties, both.Required
	return problems
}

// kindOf finds the kind of a file by its path, or nil.
func kindOf(p string) *kind {
	for i := range kinds {
		if ok, err := path.Match(kinds[i].pattern, p); err == nil && ok {
			return &kinds[i]
		}
	}
	return nil
}

func placeNames() string {
	names := make([]string, len(kinds))
	for i, k := range kinds {
		names[i] = k.pattern
	}
	return strings.Join(names, ", ")
}
