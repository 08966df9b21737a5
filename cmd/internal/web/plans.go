package web

import (
	"context"
	"fmt"
	"net/http"

	"relath/advisor"
	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/advisor/swap"
)

// plansBody is what the page of plans shows.
type plansBody struct {
	At, Take string
	Table    documentPart
	Plans    []planCard
}

// planCard is one plan.
type planCard struct {
	report.PlanPage
	Number int
	Doc    documentPart
	Spec   string
}

// withPlans gives the swaps of an assembly with the plans made of them.
func (s *Server) withPlans(ctx context.Context, h *houseFrame, a *assembly.Assembly) (*swap.Advice, error) {
	advice, err := s.advised(ctx, h, a)
	if err != nil {
		return nil, err
	}
	return s.advice.get(ctx, fmt.Sprintf("%s %s %d plans", h.File, h.Hash, a.Index), func() (*swap.Advice, error) {
		with := *advice
		err := s.work.do(s.life, func() error {
			return advisor.PlanAll(s.life, s.tester(), []*swap.Advice{&with}, swap.PlanOptions{})
		})
		return &with, err
	})
}

// plansPage shows which swaps go together, side by side.
func (s *Server) plansPage(r *http.Request) (*view, error) {
	h, a, err := s.openAssembly(r)
	if err != nil {
		return nil, err
	}
	advice, err := s.withPlans(r.Context(), h, a)
	if err != nil {
		return nil, err
	}
	table, list := s.maker().PlanPages(advice)
	body := plansBody{At: h.at(a.Name), Take: h.at(a.Name) + "swap", Table: partOf(table, "t-", 0)}
	for i, p := range list {
		body.Plans = append(body.Plans, planCard{p, i + 1, partOf(p.Page, "p"+itoa(i+1)+"-", 0), h.at(a.Name) + "spec" + query("plan", p.ID)})
	}
	return &view{
		Page: "plans", Title: "Which swaps go together?", House: h, Body: body, Trail: h.trail(link{h.at(a.Name), a.Name}),
		Command: []string{s.command("advise", h.Path, "--assembly", a.Name)},
	}, nil
}
