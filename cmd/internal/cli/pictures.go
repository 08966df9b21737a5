package cli

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"relath/advisor/report"
)

// pictureDPI is the resolution of pictures as files, dots per inch: fit for a
// letter or a sheet of paper.
const pictureDPI = 200

// addPictures adds the switch of verbs whose documents hold pictures.
func (a *app) addPictures(c *cobra.Command) {
	c.Flags().StringVar(&a.pictures, "pictures", "", "write the drawings and charts as SVG and PNG into this folder too")
}

// picturesReady refuses a folder that holds something already.
func (a *app) picturesReady() error {
	if held, err := os.ReadDir(a.pictures); a.pictures != "" && err == nil && len(held) > 0 && !a.force {
		return fmt.Errorf("folder %s is not empty; --force writes into it", a.pictures)
	}
	return nil
}

// drawn writes the pictures of a document, each as SVG and as PNG, numbered in
// the order in which they stand.
func (a *app) drawn(doc *report.Document) error {
	if a.pictures == "" {
		return nil
	}
	if err := os.MkdirAll(a.pictures, 0o755); err != nil {
		return err
	}
	n := 0
	for i := range doc.Blocks {
		p := doc.Blocks[i].Drawing()
		if p == nil {
			continue
		}
		n++
		p = p.Titled()
		var image bytes.Buffer
		if err := p.PNG(&image, pictureDPI); err != nil {
			return internalError{err}
		}
		name := filepath.Join(a.pictures, fmt.Sprintf("%02d-%s", n, fileWords(p.Title)))
		if err := replace(name+".svg", []byte(p.SVGFile()), a.force); err != nil {
			return err
		}
		if err := replace(name+".png", image.Bytes(), a.force); err != nil {
			return err
		}
	}
	if n == 0 {
		fmt.Fprintln(a.Err, "nothing here is drawn")
		return nil
	}
	fmt.Fprintf(a.Err, "wrote %d pictures into %s, each as SVG and PNG\n", n, a.pictures)
	return nil
}

// fileWords makes a file name of words: letters and digits joined by hyphens.
func fileWords(s string) string {
	const most = 50
	words := strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return (r < 'a' || r > 'z') && (r < '0' || r > '9') })
	name := strings.Join(words, "-")
	if len(name) > most {
		name = name[:most]
		if end := strings.LastIndex(name, "-"); end > 0 {
			name = name[:end] // no half words
		}
	}
	if name == "" {
		return "picture"
	}
	return name
}
