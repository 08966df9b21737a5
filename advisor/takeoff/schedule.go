package takeoff

import (
	"fmt"
	"math"
	"slices"
	"time"

	"relath/kb"
	"relath/kb/quantity"
)

// Sort says what a step of the schedule is.
type Sort string

// The sorts of steps.
const (
	Work Sort = "work" // on weekdays
	Cure Sort = "cure" // every day counts
	Hold Sort = "hold" // somebody looks and writes it down; takes no day
)

// Days is a number of days, from the fewest to the most.
type Days struct {
	Low, Best, High int
}

// Step is one step of the work.
type Step struct {
	Stage  Stage
	Sort   Sort
	What   string
	Where  []Where
	Length Days // working days of work, days of curing
	Begin  Days // day of the work on which it begins, 0 for the first
	End    Days // day on which the next may begin
	Basis  []kb.Basis
}

// Schedule is the sequence of the work, one trade after the other over the
// whole house.
type Schedule struct {
	Start       time.Time // zero: no date is given, and the first day counts as a Monday
	Steps       []Step
	Length      Days
	Assumptions []*kb.Assumption
	Warnings    []string
}

// Date gives the date of a day of the schedule; it is zero without a start.
func (s *Schedule) Date(day int) time.Time {
	if s.Start.IsZero() {
		return time.Time{}
	}
	return s.Start.AddDate(0, 0, day)
}

// ParseDate reads a date such as 2027-04-05. Years from 1900 to 2200 are taken.
func ParseDate(text string) (time.Time, error) {
	d, err := time.Parse("2006-01-02", text)
	if err != nil || d.Year() < 1900 || d.Year() > 2200 {
		return time.Time{}, fmt.Errorf("date %q: write year, month and day, such as 2027-04-05", clip(text))
	}
	return d, nil
}

// planner lays out a schedule.
type planner struct {
	base *kb.Base
	of   *Takeoff
	out  *Schedule
	now  Days
	used map[string]bool
}

// Schedule lays out the work of a takeoff from a start date, which the user
// gives; without one the days are counted. Each trade does the whole house
// before the next begins, so that a house of several crews is faster. Lengths of
// work come from an assumed area in a day.
func (t *Takeoff) Schedule(base *kb.Base, place *kb.Place, start time.Time) *Schedule {
	p := &planner{base: base, of: t, out: &Schedule{Start: start}, used: make(map[string]bool)}
	for _, s := range stages() {
		p.stage(s)
	}
	if len(p.out.Steps) > 0 {
		p.hold("", nil, "photographs, moisture readings and care sheets are handed over")
	}
	p.out.Length = p.now
	for _, a := range base.Assumptions {
		if p.used[a.ID] {
			p.out.Assumptions = append(p.out.Assumptions, a)
		}
	}
	p.frost(place)
	return p.out
}

// stage lays out one stage: its hold point, its materials, their work and
// curing.
func (p *planner) stage(s Stage) {
	var lines []int
	for i := range p.of.Lines {
		if l := &p.of.Lines[i]; l.Stage == s && l.Of < 0 {
			lines = append(lines, i)
		}
	}
	if len(lines) == 0 {
		return
	}
	if text := holdBefore(s); text != "" && len(p.out.Steps) > 0 {
		if cover := p.covering(s, lines); len(cover) > 0 {
			p.hold(s, p.places(cover), text)
		}
	}
	var plaster, others []int
	for _, i := range lines {
		if m := p.of.Lines[i].Material; m != nil && m.Form == kb.Plaster {
			plaster = append(plaster, i)
		} else {
			others = append(others, i)
		}
	}
	p.plaster(s, plaster)
	if len(others) == 0 {
		return
	}
	switch s {
	case Painting, OutsidePainting, FinishCoats:
		p.coats(s, others)
	case Floors:
		p.acclimatize(s, others)
		p.work(s, "", others)
	default:
		p.work(s, "", others)
	}
}

// hold adds a hold point at what the places cover.
func (p *planner) hold(s Stage, where []Where, what string) {
	p.out.Steps = append(p.out.Steps, Step{Stage: s, Sort: Hold, What: what, Where: where, Begin: p.now, End: p.now})
}

// covering leaves out the plaster on a lining of the same wall: what stands behind
// it was looked at before the lining.
func (p *planner) covering(s Stage, lines []int) []int {
	if s != Plastering {
		return lines
	}
	return slices.DeleteFunc(slices.Clone(lines), func(i int) bool {
		return slices.ContainsFunc(p.of.Lines, func(l Line) bool {
			return l.Stage == Lining && l.Where.Assembly != "" && l.Where.Assembly == p.of.Lines[i].Where.Assembly
		})
	})
}

// places lists where lines go.
func (p *planner) places(lines []int) []Where {
	var where []Where
	for _, i := range lines {
		if w := p.of.Lines[i].Where; !slices.Contains(where, w) {
			where = append(where, w)
		}
	}
	return where
}

// days gives an assumed duration in whole days, rounded up.
func (p *planner) days(id string) (Days, []kb.Basis) {
	a := p.base.Assumption(id)
	if a == nil {
		return Days{}, nil
	}
	p.used[id] = true
	const day, slack = 86400.0, 1e-6
	up := func(v float64) int { return int(math.Ceil(v/day - slack)) }
	return Days{up(a.SI.Low), up(a.SI.Best), up(a.SI.High)}, []kb.Basis{a.Basis}
}

// work adds the work on lines: their area over what is done in a day, at least a
// day. Without words it names the materials.
func (p *planner) work(s Stage, what string, lines []int) {
	rate := quantity.Range{}
	var basis []kb.Basis
	if a := p.base.Assumption("takeoff-day"); a != nil {
		p.used[a.ID] = true
		rate, basis = a.SI, []kb.Basis{a.Basis}
	}
	area := 0.0
	for _, i := range lines {
		area += p.faceOf(&p.of.Lines[i])
	}
	if what == "" {
		what = p.names(lines)
	}
	length := func(rate float64) int {
		if rate <= 0 {
			return 1
		}
		return max(1, int(math.Ceil(area/rate-1e-9)))
	}
	step := Step{Stage: s, Sort: Work, What: what, Where: p.places(lines), Length: Days{length(rate.High), length(rate.Best), length(rate.Low)}, Basis: basis}
	p.step(step)
}

// faceOf is the area that a line is worked on, m²: by its area, for trim a
// running meter counts as a quarter of a square meter, pieces as two.
func (p *planner) faceOf(l *Line) float64 {
	const perMeter, perPiece = 0.25, 2.0
	if m, ok := l.Measure(Area); ok {
		return m.Net.Best
	}
	if m, ok := l.Measure(Length); ok {
		return m.Net.Best * perMeter
	}
	if m, ok := l.Measure(Pieces); ok {
		return m.Net.Best * perPiece
	}
	return 0
}

// names lists the materials of lines.
func (p *planner) names(lines []int) string {
	text := ""
	var seen []string
	for _, i := range lines {
		name := p.of.Lines[i].Name
		if slices.Contains(seen, name) {
			continue
		}
		seen = append(seen, name)
		if text != "" {
			text += ", "
		}
		text += name
	}
	return text
}

// step appends a step that begins now and moves the time on.
func (p *planner) step(s Step) {
	s.Begin = p.now
	if s.Sort == Work {
		s.Begin = Days{p.weekday(p.now.Low), p.weekday(p.now.Best), p.weekday(p.now.High)}
		s.End = Days{p.workdays(s.Begin.Low, s.Length.Low), p.workdays(s.Begin.Best, s.Length.Best), p.workdays(s.Begin.High, s.Length.High)}
	} else {
		s.End = Days{s.Begin.Low + s.Length.Low, s.Begin.Best + s.Length.Best, s.Begin.High + s.Length.High}
	}
	p.now = s.End
	p.out.Steps = append(p.out.Steps, s)
}

// weekday moves a day on to the next weekday.
func (p *planner) weekday(day int) int {
	for p.isWeekend(day) {
		day++
	}
	return day
}

// workdays gives the day after so many working days from a day.
func (p *planner) workdays(day, count int) int {
	for ; count > 0; day++ {
		if !p.isWeekend(day) {
			count--
		}
	}
	return day
}

func (p *planner) isWeekend(day int) bool {
	if p.out.Start.IsZero() {
		return day%7 >= 5
	}
	d := p.out.Start.AddDate(0, 0, day).Weekday()
	return d == time.Saturday || d == time.Sunday
}
