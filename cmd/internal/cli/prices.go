package cli

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"github.com/spf13/cobra"

	"relath/advisor/assembly"
	"relath/advisor/takeoff"
	"relath/kb"
	"relath/kb/strict"
)

// pricesFlag is --prices.
type pricesFlag struct{ file string }

func (f *pricesFlag) add(c *cobra.Command) {
	c.Flags().StringVar(&f.file, "prices", "", "price book of your own, YAML or CSV, instead of the one that the description names")
}

// book gives the price book of the flag, else the one that the description
// names, else the prices of folders laid over the base; nil without any.
func (f *pricesFlag) book(a *app, base *kb.Base, house *assembly.Resolved, file string) (*takeoff.PriceBook, error) {
	if f.file != "" {
		return a.priceBook(base, f.file)
	}
	named := house.House.Prices
	if named.IsZero() {
		return takeoff.FromBase(base), nil
	}
	at := filepath.FromSlash(named.Value)
	if file != "-" && !filepath.IsAbs(at) {
		at = filepath.Join(filepath.Dir(file), at)
	}
	book, err := a.priceBook(base, at)
	var problems strict.Problems
	if err == nil || errors.As(err, &problems) {
		return book, err
	}
	why := err.Error()
	if errors.Is(err, fs.ErrNotExist) {
		why = fmt.Sprintf("there is no file %s", at)
	}
	return nil, strict.Problems{a.located(file, named.Pos, "price book: "+why, "the path is relative to the description; --prices FILE takes another one")}
}

func (a *app) priceBook(base *kb.Base, file string) (*takeoff.PriceBook, error) {
	data, err := a.read(file)
	if err != nil {
		return nil, err
	}
	book, problems := takeoff.ReadPrices(base, file, data)
	return book, problems.Err()
}

// located is a problem at a place of a description, with its line where the file
// can be read once more.
func (a *app) located(file string, pos strict.Pos, message, hint string) strict.Problem {
	if file != "-" {
		if data, err := a.read(file); err == nil {
			if _, doc, _ := assembly.Parse(file, data); doc != nil {
				return doc.Problem(pos, message, hint)
			}
		}
	}
	return strict.Problem{Pos: pos, Message: message, Hint: hint}
}
