package kb

import (
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

// equalBases compares two bases; a list without entries is the same as none.
func equalBases(a, b *Base) string { return cmp.Diff(a, b, cmpopts.EquateEmpty()) }

func withoutPositions(b *Base) *Base {
	forgetPositions(reflect.ValueOf(b))
	return b
}

// openSmall opens the small base through a cache.
func openSmall(t testing.TB, cache string) *Base {
	t.Helper()
	b, err := openTrees([]tree{{files: small(t)}}, cache)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// cacheFile finds the one cache file below a folder.
func cacheFile(t testing.TB, root string) string {
	t.Helper()
	names, err := filepath.Glob(filepath.Join(root, "*", "*"))
	if err != nil || len(names) != 1 || filepath.Base(names[0]) != "base.bin" {
		t.Fatalf("cache holds %v (%v); want base.bin alone", names, err)
	}
	return names[0]
}

// What comes from the cache is what was decoded, to the last field.
func TestCacheGivesTheSameBase(t *testing.T) {
	root := t.TempDir()
	fresh := withoutPositions(mustLoad(t, small(t)))
	for _, start := range []string{"first", "second"} {
		if diff := equalBases(fresh, openSmall(t, root)); diff != "" {
			t.Errorf("%s start (-decoded +opened):\n%s", start, diff)
		}
	}
	b, err := readCache(cacheFile(t, root))
	if err != nil {
		t.Fatal(err)
	}
	if diff := equalBases(fresh, b); diff != "" {
		t.Errorf("cache file (-decoded +read):\n%s", diff)
	}
}

// A damaged cache is noticed at any byte, and replaced.
func TestDamagedCacheIsRebuilt(t *testing.T) {
	root := t.TempDir()
	openSmall(t, root)
	name := cacheFile(t, root)
	good, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	flipped := append([]byte(nil), good...)
	flipped[len(good)/2] ^= 0x10
	for i := range good {
		flip := append([]byte(nil), good...)
		flip[i] ^= 0x10
		if _, err := parseCache(string(flip)); err == nil {
			t.Fatalf("byte %d changed and the cache still reads", i)
		}
	}
	damage := map[string][]byte{
		"empty": {}, "a byte changed": flipped, "cut short": good[:len(good)-1], "cut in the head": good[:len(cacheMagic)+3],
		"longer": append(good[:len(good):len(good)], 0),
	}
	fresh := withoutPositions(mustLoad(t, small(t)))
	for what, bad := range damage {
		if err := os.WriteFile(name, bad, 0o600); err != nil {
			t.Fatal(err)
		}
		if diff := equalBases(fresh, openSmall(t, root)); diff != "" {
			t.Errorf("%s: (-decoded +opened):\n%s", what, diff)
		}
		if now, err := os.ReadFile(name); err != nil || !cmp.Equal(now, good) {
			t.Errorf("%s: the cache file was not replaced (%v)", what, err)
		}
	}
}

// A cache written by another build of the program is not used.
func TestForeignCacheIsRebuilt(t *testing.T) {
	root := t.TempDir()
	openSmall(t, root)
	data, err := os.ReadFile(cacheFile(t, root))
	if err != nil {
		t.Fatal(err)
	}
	other := strings.Replace(string(data), runtime.Version(), strings.Repeat("x", len(runtime.Version())), 1)
	if _, err := parseCache(other); !errors.Is(err, errForeign) {
		t.Errorf("got %v; want %v", err, errForeign)
	}
}

// Many starts at once on an empty cache all get the whole base and leave one
// file and no temporary ones.
func TestCacheWithManyStarts(t *testing.T) {
	root := t.TempDir()
	files := small(t)
	fresh := withoutPositions(mustLoad(t, files))
	var wait sync.WaitGroup
	for range 16 {
		wait.Go(func() {
			b, err := openTrees([]tree{{files: files}}, root)
			if err != nil {
				t.Error(err)
				return
			}
			if diff := equalBases(fresh, b); diff != "" {
				t.Errorf("(-decoded +opened):\n%s", diff)
			}
		})
	}
	wait.Wait()
	cacheFile(t, root)
}

// Where nothing can be written the base is decoded in memory.
func TestCacheThatCannotBeWritten(t *testing.T) {
	blocked := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(blocked, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if diff := equalBases(withoutPositions(mustLoad(t, small(t))), openSmall(t, blocked)); diff != "" {
		t.Errorf("(-decoded +opened):\n%s", diff)
	}
}

// A base with problems is never cached.
func TestBrokenBaseIsNotCached(t *testing.T) {
	root := t.TempDir()
	files := small(t)
	delete(files, "terms.yaml")
	for range 2 {
		if b, err := openTrees([]tree{{files: files}}, root); err == nil {
			t.Fatalf("got %v; want problems", b)
		}
	}
	if names, _ := filepath.Glob(filepath.Join(root, "*", "*")); len(names) != 0 {
		t.Errorf("cache holds %v; want nothing", names)
	}
}

// The cache is for the user alone, and keeps few versions; what is not a
// version is left alone.
func TestCacheFolder(t *testing.T) {
	root := filepath.Join(t.TempDir(), "cache")
	if err := os.MkdirAll(filepath.Join(root, "notes"), 0o700); err != nil {
		t.Fatal(err)
	}
	for _, c := range "0123456789" {
		folder, err := CacheFolder(root, strings.Repeat(string(c), 64))
		if err != nil {
			t.Fatal(err)
		}
		if info, err := os.Stat(folder); err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o700 {
			t.Fatalf("folder %s: %v, %v; want mode 0700", folder, info, err)
		}
	}
	names, err := filepath.Glob(filepath.Join(root, "*"))
	if err != nil || len(names) != keptVersions+1 {
		t.Errorf("cache holds %v (%v); want %d versions and notes", names, err, keptVersions)
	}
}

func BenchmarkOpenWarm(b *testing.B) {
	o := Options{CacheDir: b.TempDir()}
	if _, err := Open(o); err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Open(o); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkOpenCold(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Open(Options{CacheDir: b.TempDir()}); err != nil {
			b.Fatal(err)
		}
	}
}
