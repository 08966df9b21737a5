package house

import (
	"cmp"
	"slices"

	"relath/advisor/assembly"
	"relath/kb"
)

// Standing is an assembly with the weight of what was found about it.
type Standing struct {
	Assembly string
	Counts   []LevelCount // verdict no by level, then depends and unknown, the heaviest first
}

// LevelCount is how often a verdict was given at a level.
type LevelCount struct {
	Level   kb.Level
	Verdict kb.Verdict
	Count   int
}

// order ranks the assemblies, the worst first: by the number of findings that
// surely hold at the strongest level, then the next, then by those that depend.
// Equals keep the order of the description.
func order(h *assembly.Resolved, said []Said) []Standing {
	list := make([]Standing, len(h.Assemblies))
	for i, a := range h.Assemblies {
		list[i] = Standing{Assembly: a.Name, Counts: counts(said, a.Name)}
	}
	slices.SortStableFunc(list, func(a, b Standing) int {
		for i := range a.Counts {
			if c := cmp.Compare(b.Counts[i].Count, a.Counts[i].Count); c != 0 {
				return c
			}
		}
		return 0
	})
	return list
}

// counts counts the findings of an assembly by verdict and level.
func counts(said []Said, name string) []LevelCount {
	var list []LevelCount
	for _, v := range []kb.Verdict{kb.No, kb.Depends, kb.Unknown} {
		for _, level := range kb.Level("").Allowed() {
			c := LevelCount{Level: kb.Level(level), Verdict: v}
			for _, s := range said {
				if s.Assembly != name {
					continue
				}
				for _, f := range s.Findings {
					if f.Verdict == v && f.Level == c.Level {
						c.Count++
					}
				}
			}
			list = append(list, c)
		}
	}
	return list
}

// Question is a code finding that is not settled with yes.
type Question struct {
	Assembly string
	Finding  Finding
}

// questions lists what the code leaves open, in the order given.
func questions(said []Said) []Question {
	var list []Question
	for _, s := range said {
		for _, f := range s.Findings {
			if f.Kind == "code" && f.Verdict != kb.Yes {
				list = append(list, Question{Assembly: s.Assembly, Finding: f})
			}
		}
	}
	return list
}

// Called is a caution with all that calls for it.
type Called struct {
	Caution *kb.Caution
	For     []string // assembly or finish and what called, sorted
	Certain bool     // certain somewhere
}

// cautions joins the cautions of assemblies with those of the materials of
// finishes, in the order of the base.
func (s *Study) cautions(said []Said) []Called {
	calls := make(map[string][]string)
	certain := make(map[string]bool)
	for _, one := range said {
		for _, c := range one.Cautions {
			certain[c.ID] = certain[c.ID] || c.Certain
			if len(c.For) == 0 {
				calls[c.ID] = append(calls[c.ID], one.Assembly)
			}
			for _, text := range c.For {
				calls[c.ID] = append(calls[c.ID], one.Assembly+": "+text)
			}
		}
	}
	for i := range s.house.Finishes {
		f := &s.house.Finishes[i]
		for _, m := range slices.Concat(f.Materials, f.Coats) {
			for _, id := range m.Cautions {
				calls[id] = append(calls[id], f.Finish.Room.Value+", "+f.Name+": "+m.Name)
				certain[id] = certain[id] || len(f.Materials) == 1
			}
		}
	}
	var list []Called
	for _, c := range s.base.Cautions {
		if texts := calls[c.ID]; len(texts) > 0 {
			slices.Sort(texts)
			list = append(list, Called{Caution: c, For: slices.Compact(texts), Certain: certain[c.ID]})
		}
	}
	return list
}
