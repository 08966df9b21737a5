package web

import (
	"html"
	"net/url"
	"regexp"
	"strings"
	"testing"
)

// addresses lists the pages of houses.
func (s *site) addresses(houses ...string) []string {
	list := []string{"/", "/search", "/search?q=drywall", "/search?q=sheathing&duty=brace&over=5+perm&glue=none", "/show/osb", "/show/gypsum-board?coats=usual", "/show/indoor-air", "/show/des-moines-ia", northWall + "plans", courtPage + "/tried"}
	for _, name := range houses {
		list = append(list, "/house/"+name, "/house/"+name+"/text", "/house/"+name+"/finishes")
		page := s.get("/house/"+name, 200)
		for _, at := range assembliesOn(page) {
			list = append(list, at, at+"swap", at+"leak", at+"spec")
		}
	}
	return list
}

// TestPages holds every page of the shipped houses to what all pages have: the
// command that repeats it (nothing is asked on the search page, and the record is
// of the page alone), no style or script of its own, unique ids, a label for
// every field, and none of the words that the design leaves out (section 2).
func TestPages(t *testing.T) {
	s := newSite(t)
	left := regexp.MustCompile(`(?i)\b(components?|cases?)\b`)
	standard := strings.NewReplacer("building components", "") // titles of standards
	ids := regexp.MustCompile(`\sid="([^"]*)"`)
	for _, at := range s.addresses(shipped(t)...) {
		page := s.get(at, 200)
		if at != "/search" && at != courtPage+"/tried" && !strings.Contains(page, "The same at the terminal") {
			t.Errorf("%s: no command", at)
		}
		for _, bad := range []string{"<style", " style=", " onclick=", "<script>", "http://", "https://"} {
			if strings.Contains(strings.ReplaceAll(page, "http://www.w3.org", ""), bad) {
				t.Errorf("%s: holds %q", at, bad)
			}
		}
		seen := map[string]bool{}
		for _, m := range ids.FindAllStringSubmatch(page, -1) {
			if seen[m[1]] {
				t.Errorf("%s: id %q twice", at, m[1])
			}
			seen[m[1]] = true
		}
		if m := left.FindString(standard.Replace(html.UnescapeString(visible(page)))); m != "" {
			t.Errorf("%s: says %q", at, m)
		}
	}
}

// TestLinksLead follows every link of every page of two houses.
func TestLinksLead(t *testing.T) {
	s := newSite(t)
	links := regexp.MustCompile(`href="(/[^"]*)"`)
	known := map[string]bool{}
	for _, at := range s.addresses("alder-court.yaml", "cedar-row.yaml") {
		for _, m := range links.FindAllStringSubmatch(s.get(at, 200), -1) {
			to, _, _ := strings.Cut(html.UnescapeString(m[1]), "#")
			if _, err := url.Parse(to); err != nil {
				t.Errorf("%s: link %q: %v", at, to, err)
			}
			if !known[to] {
				known[to] = true
				s.get(to, 200)
			}
		}
	}
}

// assembliesOn lists the addresses of the assemblies on the page of a house.
func assembliesOn(page string) []string {
	var list []string
	for _, m := range regexp.MustCompile(`<h3><a href="([^"]+)">`).FindAllStringSubmatch(page, -1) {
		list = append(list, html.UnescapeString(m[1]))
	}
	return list
}

// TestSuggestions offers what fits a beginning.
func TestSuggestions(t *testing.T) {
	s := newSite(t)
	for _, c := range [][3]string{
		{"place", "des mo", "Des Moines, IA"},
		{"place", "ia", "Dubuque, IA"},
		{"place", "minn", "Minneapolis-St. Paul, MN"},
		{"material", "plywo", "Plywood sheathing"},
		{"coating", "latex", "Latex primer"},
		{"finish", "hollow", "Hollow-core door"},
	} {
		s.wants(s.get("/suggest/"+c[0]+"?q="+strings.ReplaceAll(c[1], " ", "+"), 200), c[2])
	}
	s.get("/suggest/nothing?q=a", 404)
}

// TestSearch narrows by duty, vapor and glue, and says what cannot be read.
func TestSearch(t *testing.T) {
	s := newSite(t)
	page := s.get("/search?q=sheathing&duty=brace&over=5+perm&glue=none", 200)
	s.wants(page, "found", "--duty brace --adhesive none --permeance", "Lets through")
	if strings.Contains(page, `href="/show/osb"`) {
		t.Error("strand board is found without glue")
	}
	s.get("/search?over=much", 400)
	s.get("/search?duty=nothing", 400)
}

// The page of a house says the test behind its tightness.
func TestTightnessIsAsTested(t *testing.T) {
	s := newSite(t)
	s.wants(visible(s.get(courtPage, 200)), "Air tightness typical, tested at 5 ACH50")
}
