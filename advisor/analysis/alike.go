package analysis

import (
	"relath/advisor/assembly"
	"relath/kb"
)

// On gives the result for an assembly that is built like the one that was
// analyzed, in a house like its own: the facts are shared, and what names the
// assembly is said anew. The facts of hourly runs know the sun and are not shared.
func (r *Result) On(base *kb.Base, a *assembly.Assembly) *Result {
	return &Result{
		Assembly: a, Variants: r.Variants, Models: r.Models, Warnings: r.Warnings,
		Assumptions: assumptions(base, a),
	}
}
