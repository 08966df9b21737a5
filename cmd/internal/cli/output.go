package cli

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// write writes a result to the standard output or, whole or not at all, to the
// file of -o.
func (a *app) write(data []byte) error {
	if !a.toFile() {
		_, err := a.Out.Write(data)
		return err
	}
	if !a.force && exists(a.output) {
		return existsError(a.output)
	}
	if err := replace(a.output, data, a.force); err != nil {
		return err
	}
	fmt.Fprintln(a.Err, "wrote", a.output)
	return nil
}

func exists(name string) bool {
	_, err := os.Lstat(name)
	return err == nil
}

func existsError(name string) error {
	return fmt.Errorf("%s exists; --force replaces it", name)
}

// replace writes a file beside its place and moves it there, so that nobody
// sees half of it.
func replace(name string, data []byte, force bool) error {
	f, err := os.CreateTemp(filepath.Dir(name), ".relath-*")
	if err != nil {
		return err
	}
	temporary := f.Name()
	defer os.Remove(temporary) // fails once the file has moved
	_, err = f.Write(data)
	err = errors.Join(err, f.Sync(), f.Chmod(0o644), f.Close())
	if err != nil {
		return err
	}
	if force {
		return os.Rename(temporary, name)
	}
	// A link, unlike a move, never takes the place of a file that came meanwhile.
	err = os.Link(temporary, name)
	if errors.Is(err, fs.ErrExist) {
		return existsError(name)
	}
	if err != nil {
		return os.Rename(temporary, name)
	}
	return nil
}
