package rule

import "relath/kb"

// The four truths of a condition are those of kb.Verdict: yes, no, depends
// (it turns over within the ranges), unknown (a fact is missing).

// and joins conditions that must all hold: one that fails settles it; else one
// that is unknown keeps the answer unknown, and one that depends keeps it open.
func and(a, b kb.Verdict) kb.Verdict {
	for _, v := range []kb.Verdict{kb.No, kb.Unknown, kb.Depends} {
		if a == v || b == v {
			return v
		}
	}
	return kb.Yes
}

// or joins conditions of which one must hold: one that holds settles it. It is
// the mirror of and, so that a condition and its double negation agree.
func or(a, b kb.Verdict) kb.Verdict {
	for _, v := range []kb.Verdict{kb.Yes, kb.Unknown, kb.Depends} {
		if a == v || b == v {
			return v
		}
	}
	return kb.No
}

// not turns yes and no; what is open stays open.
func not(a kb.Verdict) kb.Verdict {
	switch a {
	case kb.Yes:
		return kb.No
	case kb.No:
		return kb.Yes
	}
	return a
}

func truth(v bool) kb.Verdict {
	if v {
		return kb.Yes
	}
	return kb.No
}
