package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"

	"relath/advisor"
	"relath/advisor/assembly"
	"relath/advisor/report"
	"relath/advisor/swap"
)

// advised gives all swaps of an assembly.
func (s *Server) advised(ctx context.Context, h *houseFrame, a *assembly.Assembly) (*swap.Advice, error) {
	return s.advice.get(ctx, fmt.Sprintf("%s %s %d", h.File, h.Hash, a.Index), func() (*swap.Advice, error) {
		var out *swap.Advice
		err := s.work.do(s.life, func() error {
			list, err := advisor.Advise(s.life, s.tester(), []*assembly.Assembly{a}, swap.Options{})
			if err == nil {
				out = list[0]
			}
			return err
		})
		return out, err
	})
}

// swapBody is what the page of swaps shows.
type swapBody struct {
	At      string
	Name    string
	Layer   string // only its swaps, empty for all
	Layers  []layerLink
	Leave   string
	Swaps   []swapCard
	Down    documentPart
	Take    string
	Records string
}

// layerLink leads to the swaps of a layer.
type layerLink struct {
	Name, At string
	Count    int
	Here     bool
}

// swapCard is one swap.
type swapCard struct {
	report.SwapPage
	Number int
	Doc    documentPart
	Spec   string
	Before string // what the record says of it
}

// swaps shows what could be there instead of a layer, each computed again.
func (s *Server) swaps(r *http.Request) (*view, error) {
	h, a, err := s.openAssembly(r)
	if err != nil {
		return nil, err
	}
	layer := r.URL.Query().Get("layer")
	advice, err := s.advised(r.Context(), h, a)
	if err != nil {
		return nil, err
	}
	body := swapBody{At: h.at(a.Name), Name: a.Name, Layer: layer, Leave: advice.Leave, Take: h.at(a.Name) + "swap", Records: h.Base + "/tried"}
	var known bool
	if body.Layers, known = layerLinks(a, advice, body.Take, layer); !known {
		return &view{Go: body.Take}, nil // the layer went, perhaps with a swap
	}
	for _, x := range s.maker().SwapPages(advice) {
		if layer != "" && x.Layer != layer {
			continue
		}
		n := len(body.Swaps) + 1
		body.Swaps = append(body.Swaps, swapCard{
			SwapPage: x, Number: n, Before: droppedBefore(h.State.Tried, stepWords(x.Title, x.Layer)), Doc: partOf(x.Page, "s"+itoa(n)+"-", 1), Spec: h.at(a.Name) + "spec" + query("plan", x.ID),
		})
	}
	body.Down = partOf(s.maker().Rejections(advice.Rejections, layer), "d-", 1)
	args := []string{h.Path, "--assembly", a.Name}
	title := "What could be there instead?"
	if layer != "" {
		args, title = append(args, "--layer", layer), "What could be there instead of the "+layer+"?"
	}
	return &view{
		Page: "swap", Title: title, House: h, Body: body, Trail: h.trail(link{h.at(a.Name), a.Name}),
		Command: []string{s.command("advise", append(args, "--all")...)},
	}, nil
}

// layerLinks lists the layers with the number of swaps that begin there; known
// is whether the chosen one is among them.
func layerLinks(a *assembly.Assembly, advice *swap.Advice, at, layer string) (list []layerLink, known bool) {
	count := make(map[string]int)
	for i := range advice.Proposals {
		count[advice.Proposals[i].Layer]++
	}
	list, known = []layerLink{{"all layers", at, len(advice.Proposals), layer == ""}}, layer == ""
	for _, name := range layerNames(a) {
		list = append(list, layerLink{name, at + query("layer", name), count[name], name == layer})
		known = known || name == layer
	}
	return list, known
}

func layerNames(a *assembly.Assembly) []string {
	var names []string
	for i := range a.Described.Layers {
		names = append(names, a.Described.Layers[i].Name.Value)
	}
	return names
}

// takeSwap puts a swap or a plan into the house.
func (s *Server) takeSwap(r *http.Request) (*view, error) {
	file, form := r.PathValue("house"), r.PostForm
	h, a, err := s.openAssembly(r)
	if err != nil {
		return nil, err
	}
	err = s.shelf.apply(change{file: file, based: form.Get("based"), swap: true, edit: func(now []byte) ([]byte, string, error) {
		if hashOf(now) != h.Hash {
			return nil, "", &conflict{now}
		}
		plan, err := s.planned(r.Context(), h, a, form.Get("id"))
		if err != nil {
			return nil, "", err
		}
		text, err := plan.File()
		return text, planWords(plan), err
	}})
	if errors.As(err, new(*advisor.PlanError)) || errors.As(err, new(*advisor.ChoiceError)) {
		err = wrong("%s", err.Error())
	}
	if err != nil {
		return s.again(r, err)
	}
	return &view{Go: h.at(a.Name)}, nil
}

// planWords says what a plan is made of.
func planWords(p report.Plan) string {
	text := ""
	for i, step := range p.Steps {
		if i > 0 {
			text += "; "
		}
		text += stepWords(step.Title, step.Layer)
	}
	return text
}

func stepWords(title, layer string) string { return title + " (" + layer + ")" }

// droppedBefore says why a swap was dropped the last time, where it was.
func droppedBefore(record []tried, what string) string {
	for i := len(record) - 1; i >= 0; i-- {
		switch x := record[i]; {
		case x.What != what:
		case !x.Dropped:
			return ""
		case x.Why == "":
			return "It was tried here before and dropped."
		default:
			return "It was tried here before and dropped: " + x.Why
		}
	}
	return ""
}

// planned gives a plan by its id: that of a swap, or of several joined.
func (s *Server) planned(ctx context.Context, h *houseFrame, a *assembly.Assembly, id string) (report.Plan, error) {
	return s.plans.get(ctx, fmt.Sprintf("%s %s %d %s", h.File, h.Hash, a.Index, id), func() (report.Plan, error) {
		var out report.Plan
		err := s.work.do(s.life, func() (err error) {
			var ids []string
			if id != "" {
				ids = []string{id}
			}
			out, err = advisor.Plan(s.life, s.tester(), a, ids)
			return err
		})
		return out, err
	})
}

// triedBody is what the record of a house shows.
type triedBody struct{ Tried []tried }

// tried shows which swaps were tried on a house and why they were dropped.
func (s *Server) tried(r *http.Request) (*view, error) {
	h, err := s.openHouse(r)
	if err != nil {
		return nil, err
	}
	return &view{Page: "tried", Title: "What was tried on " + h.House.House, House: h, Body: triedBody{h.State.Tried}, Trail: h.trail()}, nil
}
