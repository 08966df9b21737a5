package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"relath/advisor/report"
)

// formats lists the faces of a document.
func formats() []string { return []string{"text", "markdown", "html", "json"} }

// face says in which format to write.
func (a *app) face() (string, error) {
	switch {
	case a.json && a.format != "" && a.format != "json":
		return "", fmt.Errorf("--json and --format %s do not go together", a.format)
	case a.json:
		return "json", nil
	case a.format != "":
		if !slices.Contains(formats(), a.format) {
			return "", fmt.Errorf("format %q is not known; allowed: %s", a.format, strings.Join(formats(), ", "))
		}
		return a.format, nil
	}
	switch strings.ToLower(filepath.Ext(a.output)) {
	case ".md", ".markdown":
		return "markdown", nil
	case ".html", ".htm":
		return "html", nil
	case ".json":
		return "json", nil
	}
	return "text", nil
}

// page writes a document in the format asked for. Data is what JSON carries
// beside the document; it is made only for JSON.
func (a *app) page(kind string, doc *report.Document, data func() (any, error)) error {
	return a.answer(report.Answer{Kind: kind, Document: doc}, data)
}

// answer is page for an answer that holds more than its data.
func (a *app) answer(answer report.Answer, data func() (any, error)) error {
	doc := answer.Document
	face, err := a.face()
	if err != nil {
		return err
	}
	var out bytes.Buffer
	switch face {
	case "json":
		values, err := data()
		if err != nil {
			return internalError{err}
		}
		answer.Base, answer.Data = a.opened.Version, values
		if err := answer.JSON(&out); err != nil {
			return internalError{err}
		}
	case "html":
		err = doc.HTML(&out)
	case "markdown":
		err = doc.Markdown(&out)
	default:
		err = doc.Text(&out)
	}
	if err != nil {
		return internalError{err}
	}
	return a.write(out.Bytes())
}

// given makes a data function of a value that is at hand.
func given(v any) func() (any, error) { return func() (any, error) { return v, nil } }

// write writes a result to the standard output or, whole or not at all, to the
// file of -o.
func (a *app) write(data []byte) error {
	if a.output == "" || a.output == "-" {
		_, err := a.Out.Write(data)
		return err
	}
	if !a.force {
		if _, err := os.Lstat(a.output); err == nil {
			return existsError(a.output)
		}
	}
	if err := replace(a.output, data, a.force); err != nil {
		return err
	}
	fmt.Fprintln(a.Err, "wrote", a.output)
	return nil
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
