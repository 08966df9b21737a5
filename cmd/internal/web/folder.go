package web

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"relath/advisor/assembly"
)

// hidden is the folder in which what an edit would lose is kept.
const hidden = ".relath"

// folder reads and writes the descriptions of one folder. Nothing outside of it
// is reached, not by a name and not by a link.
type folder struct {
	root *os.Root
	name string // as given, for the commands that pages show
}

// openFolder opens a folder that exists.
func openFolder(name string) (*folder, error) {
	root, err := os.OpenRoot(name)
	if err != nil {
		return nil, fmt.Errorf("folder %s: %w", name, plainError(err))
	}
	return &folder{root: root, name: name}, nil
}

// plainError drops the name of a system call from an error.
func plainError(err error) error {
	var at *fs.PathError
	if errors.As(err, &at) {
		return at.Err
	}
	return err
}

func (f *folder) close() error { return f.root.Close() }

// path gives the path of a file as the user would type it.
func (f *folder) path(file string) string { return filepath.Join(f.name, file) }

// isHouseFile says whether a name can be that of a description: a YAML file
// right in the folder, not hidden.
func isHouseFile(name string) bool {
	ext := path.Ext(name)
	switch {
	case len(name) > 200, name != path.Base(name), strings.ContainsAny(name, "\\:\x00"), strings.HasPrefix(name, "."):
		return false
	}
	return (ext == ".yaml" || ext == ".yml") && len(name) > len(ext)
}

// list gives the names of the files that may be descriptions, sorted.
func (f *folder) list() ([]string, error) {
	dir, err := f.root.Open(".")
	if err != nil {
		return nil, err
	}
	defer dir.Close()
	entries, err := dir.ReadDir(-1)
	if err != nil {
		return nil, err
	}
	var names []string
	for _, e := range entries {
		if isHouseFile(e.Name()) && e.Type().IsRegular() {
			names = append(names, e.Name())
		}
	}
	slices.Sort(names)
	return names, nil
}

// has says whether there is a file that may be a description.
func (f *folder) has(name string) bool {
	if !isHouseFile(name) {
		return false
	}
	about, err := f.root.Lstat(name)
	return err == nil && about.Mode().IsRegular()
}

// errNoHouse says that there is no such description.
var errNoHouse = errors.New("there is no such house in the folder")

// read gives the text of a description. One that is too large is cut right
// after the limit, which its reader then reports.
func (f *folder) read(name string) ([]byte, error) {
	if !f.has(name) {
		return nil, errNoHouse
	}
	file, err := f.root.Open(name)
	if err != nil {
		return nil, plainError(err)
	}
	defer file.Close()
	return io.ReadAll(io.LimitReader(file, assembly.MaxBytes+1))
}

// create writes a new description; one that exists is an error that is
// [fs.ErrExist].
func (f *folder) create(name string, data []byte) error {
	if !isHouseFile(name) {
		return fmt.Errorf("%q is no name for a description", name)
	}
	temporary, err := f.write(data)
	if err != nil {
		return err
	}
	defer f.root.Remove(temporary)
	// A link, unlike a move, never takes the place of a file that came meanwhile.
	err = f.root.Link(temporary, name)
	if err == nil || errors.Is(err, fs.ErrExist) {
		return err
	}
	if _, err := f.root.Lstat(name); err == nil {
		return fs.ErrExist
	}
	return f.root.Rename(temporary, name)
}

// replace writes a description in the place of the one that stands there, whole
// or not at all.
func (f *folder) replace(name string, data []byte) error {
	if !isHouseFile(name) {
		return errNoHouse
	}
	temporary, err := f.write(data)
	if err != nil {
		return err
	}
	if err := f.root.Rename(temporary, name); err != nil {
		return errors.Join(err, f.root.Remove(temporary))
	}
	return nil
}

// keep puts a copy of a text into the hidden folder and gives its name.
func (f *folder) keep(name string, data []byte) (string, error) {
	if err := f.hide(); err != nil {
		return "", err
	}
	ext := path.Ext(name)
	kept := path.Join(hidden, fmt.Sprintf("%s.%s%s", strings.TrimSuffix(name, ext), hashOf(data)[:12], ext))
	if _, err := f.root.Lstat(kept); err == nil {
		return kept, nil
	}
	temporary, err := f.write(data)
	if err != nil {
		return "", err
	}
	return kept, f.root.Rename(temporary, kept)
}

// hide makes the hidden folder.
func (f *folder) hide() error {
	if err := f.root.Mkdir(hidden, 0o755); err != nil && !errors.Is(err, fs.ErrExist) {
		return plainError(err)
	}
	return nil
}

// write puts bytes into a new file of a name that nobody else uses.
func (f *folder) write(data []byte) (string, error) {
	name := ".relath-" + rand.Text()
	file, err := f.root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return "", plainError(err)
	}
	_, err = file.Write(data)
	if err = errors.Join(err, file.Sync(), file.Close()); err != nil {
		return "", errors.Join(plainError(err), f.root.Remove(name))
	}
	return name, nil
}

// hashOf names a text by its content.
func hashOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}
