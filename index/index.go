// Package index is the search for people: words as builders use them, slips
// included, filters over properties with their units, and for each hit why it
// was found.
//
// A bleve index holds which entry has which word. It is made once for a version
// of the base, kept in the user's cache folder, opened read-only afterwards,
// made anew when it is damaged, and held in memory where nothing can be
// written. What a property is worth is always asked of the base itself.
//
//	ix, err := index.Open(base, "")
//	defer ix.Close()
//	found, err := ix.Search(index.Query{Words: "no glue subfloor", Limit: 10})
package index

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/analysis/analyzer/custom"
	"github.com/blevesearch/bleve/v2/analysis/tokenizer/whitespace"
	"github.com/blevesearch/bleve/v2/index/scorch"
	"github.com/blevesearch/bleve/v2/mapping"
	bleveindex "github.com/blevesearch/bleve_index_api"

	"relath/kb"
)

// Index answers questions about one base. It is safe for use by several
// goroutines. Close it at the end.
type Index struct {
	base  *kb.Base
	lang  *language
	refs  []ref // ordered by kind and id
	bleve bleve.Index
}

// Open gives the index of a base. The cache folder is the one the base itself
// was opened with ([kb.Options]); empty stands for the user's cache folder. A
// base without a version is indexed in memory. The error is that of the search
// engine in memory: no state of the disk is an error.
func Open(base *kb.Base, cacheFolder string) (*Index, error) {
	ix := &Index{base: base, lang: newLanguage(base), refs: refs(base)}
	if base.Version != "" {
		if folder, err := kb.CacheFolder(cacheFolder, base.Version); err == nil {
			ix.bleve = ix.cached(folder)
		}
	}
	if ix.bleve == nil {
		var err error
		if ix.bleve, err = ix.inMemory(); err != nil {
			return nil, fmt.Errorf("search index: %w", err)
		}
	}
	return ix, nil
}

// Close releases the files of the index.
func (ix *Index) Close() error { return ix.bleve.Close() }

// The fields of an entry, from the one that says most about it.
const (
	fieldName  = "name"
	fieldPlace = "place" // what a name says after a word such as "in"
	fieldRole  = "role"
	fieldText  = "text"
	fieldMore  = "more"
	fieldNever = "never" // what the entry says that it is not for
	fieldWord  = "word"  // names and roles as written, to mend slips by
	fieldExact = "exact" // whole names, to know a name that is typed in full
)

// newMapping tells bleve to index the fields as we cut them, and nothing else.
func newMapping() (mapping.IndexMapping, error) {
	m := bleve.NewIndexMapping()
	if err := m.AddCustomAnalyzer("tokens", map[string]any{"type": custom.Name, "tokenizer": whitespace.Name}); err != nil {
		return nil, err
	}
	fields := bleve.NewDocumentStaticMapping()
	for _, name := range []string{fieldName, fieldPlace, fieldRole, fieldText, fieldMore, fieldNever, fieldWord, fieldExact} {
		f := bleve.NewTextFieldMapping()
		f.Analyzer = "tokens"
		f.Store, f.IncludeInAll, f.IncludeTermVectors, f.DocValues, f.SkipFreqNorm = false, false, false, false, true
		fields.AddFieldMappingsAt(name, f)
	}
	m.DefaultMapping = fields
	return m, nil
}

// document gives the fields of an entry as tokens between spaces.
func (ix *Index) document(l *language, r ref) map[string]any {
	e := entryOf(ix.base, r)
	var names, places, roles []string
	for _, n := range l.namesOf(e.names) {
		names, places = append(names, n.head...), append(places, n.tail...)
		names = append(names, n.pairs...)
	}
	for _, n := range l.namesOf(e.roles) {
		roles = append(roles, n.tokens...)
	}
	return map[string]any{
		fieldName:  strings.Join(names, " "),
		fieldPlace: strings.Join(places, " "),
		fieldRole:  strings.Join(roles, " "),
		fieldText:  strings.Join(l.proseTokens(e.text), " "),
		fieldMore:  strings.Join(l.proseTokens(e.more), " "),
		fieldNever: strings.Join(append(l.refusedTokens(e.text), l.refusedTokens(e.never)...), " "),
		fieldExact: strings.Join(l.exact(e.wholeNames(r)), " "),
		fieldWord:  l.wordText(slices.Concat(e.names, e.roles)),
	}
}

// batchSize is the number of entries given to bleve at once in memory; small
// batches are faster there.
const batchSize = 50

// inMemory makes an index that lives as long as the process.
func (ix *Index) inMemory() (bleve.Index, error) {
	m, err := newMapping()
	if err != nil {
		return nil, err
	}
	made, err := bleve.NewUsing("", m, scorch.Name, scorch.Name, nil)
	if err != nil {
		return nil, err
	}
	l := ix.lang.fresh()
	batch := made.NewBatch()
	for i, r := range ix.refs {
		if err := batch.Index(strconv.Itoa(i), ix.document(l, r)); err != nil {
			return nil, err
		}
		if batch.Size() < batchSize && i+1 < len(ix.refs) {
			continue
		}
		if err := made.Batch(batch); err != nil {
			return nil, err
		}
		batch = made.NewBatch()
	}
	return made, nil
}

// reader opens what the index holds now.
func (ix *Index) reader() (bleveindex.IndexReader, error) {
	engine, err := ix.bleve.Advanced()
	if err != nil {
		return nil, err
	}
	return engine.Reader()
}
