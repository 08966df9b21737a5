package kb

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"

	"relath/kb/strict"
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
//
// Positions are empty in an opened base: it has no problems that could point
// anywhere.
func Open(o Options) (*Base, error) { return openTrees(o.trees(), o.CacheDir) }

// Decode gives the same base as [Open] with positions, from the files and not
// from the cache: for checks that point at lines.
func Decode(o Options) (*Base, error) {
	files, err := readTrees(o.trees())
	if err != nil {
		return nil, err
	}
	return build(files)
}

// trees lists the embedded base and the overlay, whose files are shown with its
// path.
func (o Options) trees() []tree {
	trees := []tree{{files: Embedded()}}
	if o.Overlay != "" {
		trees = append(trees, tree{files: os.DirFS(o.Overlay), name: filepath.ToSlash(filepath.Clean(o.Overlay)) + "/"})
	}
	return trees
}

func openTrees(trees []tree, root string) (*Base, error) {
	version, err := hashTrees(trees)
	if err != nil {
		return nil, err
	}
	folder, cacheErr := CacheFolder(root, version)
	name := filepath.Join(folder, "base.bin")
	if cacheErr == nil {
		if b, err := readCache(name); err == nil {
			return b, nil
		}
	}
	files, err := readTrees(trees)
	if err != nil {
		return nil, err
	}
	b, err := build(files)
	if err != nil {
		return nil, err
	}
	forgetPositions(reflect.ValueOf(b))
	if cacheErr == nil && b.Version == version { // an overlay can change between the two readings
		// The base is complete in memory: a cache that cannot be written only costs time.
		_ = writeCache(name, b)
	}
	return b, nil
}

// forgetPositions empties every position: they are of no use once the base is
// known to be sound, and cost time at every start.
func forgetPositions(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			forgetPositions(v.Elem())
		}
	case reflect.Slice:
		for i := range v.Len() {
			forgetPositions(v.Index(i))
		}
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[strict.Pos]() {
			v.SetZero()
			return
		}
		for i := range v.NumField() {
			forgetPositions(v.Field(i))
		}
	}
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
