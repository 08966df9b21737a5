package cli

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"golang.org/x/term"

	"relath/advisor/report"
)

// form is a form in which a result is written.
type form struct {
	name    string
	endings []string // of files, the usual one first
	binary  bool     // not for a terminal
}

// documentForms are the forms of every document.
func documentForms() []form {
	return []form{
		{name: "text", endings: []string{".txt"}},
		{name: "markdown", endings: []string{".md", ".markdown"}},
		{name: "html", endings: []string{".html", ".htm"}},
		{name: "json", endings: []string{".json"}},
		{name: "pdf", endings: []string{".pdf"}, binary: true},
	}
}

// table is a form of the numbers of a result, beside those of its document.
type table struct {
	form
	write func() ([]byte, error)
}

func csvForm() form { return form{name: "csv", endings: []string{".csv"}} }

func xlsxForm() form { return form{name: "xlsx", endings: []string{".xlsx"}, binary: true} }

// choose says in which form to write: that of --format or --json, else by the
// ending of -o, else text. The two must not contradict each other.
func (a *app) choose(allowed []form) (form, error) {
	asked := a.format
	if a.json {
		if asked != "" && asked != "json" {
			return form{}, fmt.Errorf("--json and --format %s do not go together", asked)
		}
		asked = "json"
	}
	ending := strings.ToLower(filepath.Ext(a.output))
	byName := slices.IndexFunc(allowed, func(f form) bool { return f.name == asked })
	byEnding := slices.IndexFunc(allowed, func(f form) bool { return slices.Contains(f.endings, ending) })
	switch {
	case asked != "" && byName < 0:
		return form{}, fmt.Errorf("format %q is not known here; allowed: %s", asked, formNames(allowed))
	case asked != "" && byEnding >= 0 && byEnding != byName:
		return form{}, fmt.Errorf("-o %s and format %s do not go together", a.output, asked)
	case asked != "":
		return allowed[byName], nil
	case byEnding >= 0:
		return allowed[byEnding], nil
	case ending != "" && a.toFile():
		return form{}, fmt.Errorf("-o %s: no form has the ending %q; allowed: %s", a.output, ending, formEndings(allowed))
	}
	return allowed[0], nil
}

func formNames(list []form) string {
	names := make([]string, len(list))
	for i, f := range list {
		names[i] = f.name
	}
	return strings.Join(names, ", ")
}

func formEndings(list []form) string {
	var endings []string
	for _, f := range list {
		endings = append(endings, f.endings...)
	}
	return strings.Join(endings, ", ")
}

// toFile says whether the result goes to a file.
func (a *app) toFile() bool { return a.output != "" && a.output != "-" }

// ready refuses what cannot be written, so that nobody waits for it: an unknown
// form or paper, a file that stands in the way, a binary form for a terminal.
// Tables are the forms that this result has beside those of every document.
func (a *app) ready(tables ...form) (form, error) {
	chosen, err := a.choose(append(documentForms(), tables...))
	switch {
	case err != nil:
		return chosen, err
	case !slices.Contains(report.Papers(), a.paper):
		return chosen, fmt.Errorf("paper %q is not known; allowed: %s", a.paper, strings.Join(report.Papers(), ", "))
	case !a.toFile() && chosen.binary && isTerminal(a.Out):
		return chosen, fmt.Errorf("%s is not for a terminal; name a file with -o, such as -o sheet%s", chosen.name, chosen.endings[0])
	case a.toFile() && !a.force && exists(a.output):
		return chosen, existsError(a.output)
	}
	return chosen, a.picturesReady()
}

func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// page writes a document in the form asked for. Data is what JSON carries
// beside the document; it is made only for JSON. Tables are further forms.
func (a *app) page(kind string, doc *report.Document, data func() (any, error), tables ...table) error {
	return a.answer(report.Answer{Kind: kind, Document: doc}, data, tables...)
}

// answer is page for an answer that holds more than its data.
func (a *app) answer(answer report.Answer, data func() (any, error), tables ...table) error {
	var forms []form
	for _, t := range tables {
		forms = append(forms, t.form)
	}
	chosen, err := a.ready(forms...)
	if err != nil {
		return err
	}
	out, err := a.written(chosen, answer, data, tables)
	if err != nil {
		return internalError{err}
	}
	if err := a.write(out); err != nil {
		return err
	}
	return a.drawn(answer.Document)
}

// written gives the bytes of an answer in a form.
func (a *app) written(chosen form, answer report.Answer, data func() (any, error), tables []table) ([]byte, error) {
	for _, t := range tables {
		if t.name == chosen.name {
			return t.write()
		}
	}
	var out bytes.Buffer
	var err error
	switch doc := answer.Document; chosen.name {
	case "json":
		answer.Base = a.opened.Version
		if answer.Data, err = data(); err == nil {
			err = answer.JSON(&out)
		}
	case "html":
		err = doc.HTML(&out)
	case "markdown":
		err = doc.Markdown(&out)
	case "pdf":
		err = doc.PDF(&out, report.Paper(a.paper))
	default:
		err = doc.Text(&out)
	}
	return out.Bytes(), err
}

// given makes a data function of a value that is at hand.
func given(v any) func() (any, error) { return func() (any, error) { return v, nil } }
