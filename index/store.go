package index

import (
	"bytes"
	"errors"
	"fmt"
	"hash/crc32"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"

	"github.com/blevesearch/bleve/v2"
)

// storeName is the folder of the index within the cache folder of a version.
const storeName = "search"

// sealName is the file that lists the files of an index with their checksums.
const sealName = "seal"

// cached opens the index kept in the folder; where there is none, or it is
// damaged, it is made anew. Nil means that the folder cannot be used.
func (ix *Index) cached(folder string) bleve.Index {
	kept := filepath.Join(folder, storeName)
	if opened, err := openStore(kept); err == nil {
		return opened
	}
	// Whether it is this process or another one that succeeds does not matter.
	_ = ix.replaceStore(folder, kept)
	if opened, err := openStore(kept); err == nil {
		return opened
	}
	return nil
}

// openStore checks every byte of an index against its seal and opens it.
func openStore(kept string) (bleve.Index, error) {
	sealed, err := os.ReadFile(filepath.Join(kept, sealName))
	if err != nil {
		return nil, err
	}
	found, err := seal(kept)
	if err != nil {
		return nil, err
	}
	if !bytes.Equal(sealed, found) {
		return nil, errors.New("search index is damaged or of another build of the program")
	}
	return bleve.OpenUsing(kept, map[string]any{"read_only": true})
}

// replaceStore makes an index beside its place and moves it there in one step.
// A process that was faster is as good: its index is then opened instead.
func (ix *Index) replaceStore(folder, kept string) error {
	fresh, err := os.MkdirTemp(folder, "search-*.tmp")
	if err != nil {
		return err
	}
	defer os.RemoveAll(fresh)
	if err := ix.build(fresh); err != nil {
		return err
	}
	if err := os.Rename(filepath.Join(fresh, storeName), kept); err == nil {
		return nil
	}
	if opened, err := openStore(kept); err == nil {
		return opened.Close()
	}
	if err := os.Rename(kept, filepath.Join(fresh, "old")); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return os.Rename(filepath.Join(fresh, storeName), kept)
}

// build writes a complete index with its seal below the folder.
func (ix *Index) build(fresh string) error {
	m, err := newMapping()
	if err != nil {
		return err
	}
	place := filepath.Join(fresh, storeName)
	builder, err := bleve.NewBuilder(place, m, map[string]any{"buildPathPrefix": fresh})
	if err != nil {
		return err
	}
	l := ix.lang.fresh()
	for i, r := range ix.refs {
		if err := builder.Index(strconv.Itoa(i), ix.document(l, r)); err != nil {
			return err
		}
	}
	if err := builder.Close(); err != nil {
		return err
	}
	sealed, err := seal(place)
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(place, sealName), sealed, 0o600)
}

// seal lists the files below a folder with their checksums, after the mark of
// the program that wrote them.
func seal(place string) ([]byte, error) {
	var b strings.Builder
	b.WriteString(buildMark())
	err := filepath.WalkDir(place, func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || d.Name() == sealName {
			return err
		}
		data, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		short, err := filepath.Rel(place, name)
		fmt.Fprintf(&b, "%s %d %08x\n", filepath.ToSlash(short), len(data), crc32.Checksum(data, crc32.MakeTable(crc32.Castagnoli)))
		return err
	})
	return []byte(b.String()), err
}

// buildMark tells builds of the program apart: another build may cut the same
// words in another way.
func buildMark() string {
	mark := "relath search " + runtime.Version()
	if name, err := os.Executable(); err == nil {
		if info, err := os.Stat(name); err == nil {
			mark = fmt.Sprintf("%s %d %d", mark, info.Size(), info.ModTime().UnixNano())
		}
	}
	return mark + "\n"
}
