package kb

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"encoding/gob"
	"errors"
	"fmt"
	"hash/crc32"
	"os"
	"path/filepath"
	"runtime"
	"slices"
)

// Options say which base to open.
type Options struct {
	CacheDir string // where decoded bases are kept; empty: the user's cache folder
	Overlay  string // a folder laid over the embedded base; empty: none
}

// Open gives the embedded base with an overlay, if any. A base that has been
// decoded before is taken from the cache folder; a missing or damaged one is
// decoded anew and put there. Where nothing can be written it is decoded at
// every start. The error is that of [Load], or that the overlay cannot be read.
func Open(o Options) (*Base, error) {
	trees := []tree{{files: Embedded()}}
	if o.Overlay != "" {
		trees = append(trees, tree{files: os.DirFS(o.Overlay), name: filepath.ToSlash(filepath.Clean(o.Overlay)) + "/"})
	}
	return openTrees(trees, o.CacheDir)
}

func openTrees(trees []tree, root string) (*Base, error) {
	files, err := readTrees(trees)
	if err != nil {
		return nil, err
	}
	folder, err := CacheFolder(root, versionOf(files))
	if err != nil {
		return build(files)
	}
	name := filepath.Join(folder, "base.gob")
	if b, err := readCache(name); err == nil {
		return b, nil
	}
	b, err := build(files)
	if err == nil {
		// The base is complete in memory: a cache that cannot be written only costs time.
		_ = writeCache(name, b)
	}
	return b, err
}

// CacheFolder makes and returns the folder for everything derived from a
// version of the base, below root; an empty root stands for the user's cache
// folder. Only the user can read it. The few newest versions are kept, older
// ones removed. It is an error when the folder cannot be made.
func CacheFolder(root, version string) (string, error) {
	if root == "" {
		user, err := os.UserCacheDir()
		if err != nil {
			return "", fmt.Errorf("cache folder: %w", err)
		}
		root = filepath.Join(user, "relath")
	}
	folder := filepath.Join(root, version)
	if info, err := os.Stat(folder); err == nil && info.IsDir() {
		return folder, nil
	}
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return "", fmt.Errorf("cache folder: %w", err)
	}
	prune(root)
	return folder, nil
}

// keptVersions is the number of versions whose folders stay in the cache.
const keptVersions = 4

// prune removes the folders of old versions. A process that still uses one
// finds it missing and decodes anew.
func prune(root string) {
	found, err := os.ReadDir(root)
	if err != nil {
		return
	}
	type aged struct {
		name string
		time int64
	}
	var versions []aged
	for _, d := range found {
		if info, err := d.Info(); err == nil && d.IsDir() && isVersion(d.Name()) {
			versions = append(versions, aged{d.Name(), info.ModTime().UnixNano()})
		}
	}
	slices.SortFunc(versions, func(a, b aged) int { return cmp.Or(cmp.Compare(b.time, a.time), cmp.Compare(a.name, b.name)) })
	for i, v := range versions {
		if i >= keptVersions {
			_ = os.RemoveAll(filepath.Join(root, v.name)) // tried again next time
		}
	}
}

// isVersion says whether a name is a hash as [versionOf] writes it, so that
// nothing else in the folder is ever removed.
func isVersion(name string) bool {
	if len(name) != 64 {
		return false
	}
	for _, c := range name {
		if (c < '0' || c > '9') && (c < 'a' || c > 'f') {
			return false
		}
	}
	return true
}

// A cache file is this line, the mark of the program that wrote it, a checksum
// of the rest and the base as gob.
const cacheMagic = "relath base\n"

var (
	errDamaged = errors.New("cache file is damaged")
	errForeign = errors.New("cache file was written by another build of the program")
	castagnoli = crc32.MakeTable(crc32.Castagnoli)
)

// readCache reads a cache file; the error says why it cannot be used.
func readCache(name string) (*Base, error) {
	data, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	return parseCache(data)
}

func parseCache(data []byte) (*Base, error) {
	mark := []byte(cacheMagic + buildMark())
	head := len(mark) + crc32.Size
	switch {
	case !bytes.HasPrefix(data, mark):
		return nil, errForeign
	case len(data) < head || binary.LittleEndian.Uint32(data[len(mark):]) != crc32.Checksum(data[head:], castagnoli):
		return nil, errDamaged
	}
	b := new(Base)
	if err := gob.NewDecoder(bytes.NewReader(data[head:])).Decode(b); err != nil {
		return nil, err
	}
	return b, nil
}

// writeCache writes a cache file in one step: readers see the old file, the
// whole new one, or none.
func writeCache(name string, b *Base) error {
	var payload bytes.Buffer
	if err := gob.NewEncoder(&payload).Encode(b); err != nil {
		return err
	}
	data := []byte(cacheMagic + buildMark())
	data = binary.LittleEndian.AppendUint32(data, crc32.Checksum(payload.Bytes(), castagnoli))
	data = append(data, payload.Bytes()...)
	temp, err := os.CreateTemp(filepath.Dir(name), "base-*.tmp")
	if err != nil {
		return err
	}
	_, err = temp.Write(data)
	if err = errors.Join(err, temp.Close()); err == nil {
		err = os.Rename(temp.Name(), name)
	}
	if err != nil {
		_ = os.Remove(temp.Name())
	}
	return err
}

// buildMark tells builds of the program apart: another build may read the same
// files into other types, or in another way.
func buildMark() string {
	mark := runtime.Version()
	if name, err := os.Executable(); err == nil {
		if info, err := os.Stat(name); err == nil {
			mark = fmt.Sprintf("%s %d %d", mark, info.Size(), info.ModTime().UnixNano())
		}
	}
	return mark + "\n"
}
