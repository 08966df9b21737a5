package kb

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"strings"
	"testing"
)

// manyTimes gives the embedded base with every material, coating and place a
// number of times under other ids, and how many files that makes. The files lie
// in memory, in the only file system of the library that finds one of many
// quickly.
func manyTimes(b *testing.B, times int) (tree fs.FS, files int) {
	b.Helper()
	var archive bytes.Buffer
	w := zip.NewWriter(&archive)
	write := func(name string, data []byte) {
		f, err := w.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Store})
		if err == nil {
			_, err = f.Write(data)
		}
		if err != nil {
			b.Fatal(err)
		}
		files++
	}
	id := regexp.MustCompile(`(?m)^id: (.*)$`)
	err := fs.WalkDir(Embedded(), ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(Embedded(), p)
		if err != nil {
			return err
		}
		write(p, data)
		if top, _, _ := strings.Cut(p, "/"); top != "materials" && top != "coatings" && top != "places" {
			return nil
		}
		for i := 1; i < times; i++ {
			copied := strings.TrimSuffix(p, ".yaml") + fmt.Sprintf("-%d.yaml", i)
			name := strings.TrimSuffix(path.Base(copied), ".yaml")
			write(copied, id.ReplaceAll(data, []byte("id: "+name)))
		}
		return nil
	})
	if err != nil {
		b.Fatal(err)
	}
	if err := w.Close(); err != nil {
		b.Fatal(err)
	}
	r, err := zip.NewReader(bytes.NewReader(archive.Bytes()), int64(archive.Len()))
	if err != nil {
		b.Fatal(err)
	}
	return r, files
}

// BenchmarkSize opens the base at its size and at ten times that. The time for
// one file must stay about the same: nothing grows faster than the base.
func BenchmarkSize(b *testing.B) {
	for _, times := range []int{1, 10} {
		packed, files := manyTimes(b, times)
		trees := []tree{{files: packed}}
		perFile := func(b *testing.B) {
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(files), "ns/file")
		}
		b.Run(fmt.Sprintf("cold-%d", times), func(b *testing.B) {
			for b.Loop() {
				if _, err := openTrees(trees, b.TempDir()); err != nil {
					b.Fatal(err)
				}
			}
			perFile(b)
		})
		b.Run(fmt.Sprintf("warm-%d", times), func(b *testing.B) {
			cache := b.TempDir()
			if _, err := openTrees(trees, cache); err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				if _, err := openTrees(trees, cache); err != nil {
					b.Fatal(err)
				}
			}
			perFile(b)
		})
	}
}
