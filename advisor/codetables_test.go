package advisor_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"relath/advisor"
	"relath/advisor/report"
	"relath/advisor/rule"
	"relath/kb"
	"relath/kb/quantity"
)

// coded is an invented house of one assembly; PLACE, CODE and BODY are filled in.
const coded = `format: 1
house: Invented house
place: PLACE
code: CODE
indoor: {heating: {temperature: 68 F, humidity: 35 %}}
assemblies:
  - name: part
    area: 1200 ft2
BODY`

// The assemblies, each with one place to fill in.
const (
	cathedral = `    kind: roof
    between: [outdoors, room]
    slope: 8/12
    STATE
    layers:
      - {name: shingles, material: asphalt-shingles}
      - {name: deck, material: plywood-sheathing, thickness: 1/2 in}
      - {name: vent, cavity: 2 in, air: vented}
      - {name: rafters, framing: {material: spf-lumber, size: 2x12, spacing: 24 in}, fill: [{material: cellulose-dense-pack, thickness: 11-1/4 in}]}
      - {name: board, material: gypsum-board, thickness: 1/2 in}
`
	atticFloor = `    kind: attic-floor
    between: [attic, room]
    STATE
    layers:
      - {name: trusses, framing: {material: spf-lumber, depth: 11 in, spacing: 24 in, fraction: 7 %}, fill: [{material: cellulose-loose-fill, thickness: 11 in}]}
      - {name: board, material: gypsum-board, thickness: 1/2 in}
`
	crawlFloor = `    kind: floor
    between: [crawl, room]
    STATE
    layers:
      - {name: joists, framing: {material: spf-lumber, size: 2x12, spacing: 16 in}, fill: [{material: mineral-wool-batt, thickness: 11-1/4 in}]}
      - {name: subfloor, material: diagonal-board-subfloor, thickness: 3/4 in, performs: [carry-load]}
      - {name: boards, material: oak-floor, thickness: 3/4 in}
`
	crawlWall = `    kind: basement-wall
    between: [ground, crawl]
    below-grade: 3 ft
    STATE
    layers:
      - {name: block, material: concrete-block, thickness: 8 in, performs: [carry-load], coats: {out: [{coating: asphalt-dampproofing}]}}
      - {name: board, material: xps-board, thickness: 3-1/2 in}
`
	cellarWall = `    kind: basement-wall
    between: [ground, room]
    below-grade: 6 ft
    STATE
    layers:
      - {name: block, material: concrete-block, thickness: 8 in, performs: [carry-load]}
      - {name: board, material: xps-board, thickness: 3-1/2 in}
`
	slabOnGrade = `    kind: slab
    between: [ground, room]
    STATE
    layers:
      - {name: gravel, material: gravel-bed, thickness: 4 in}
      - {name: sheet, material: polyethylene-6mil, sealed: yes}
      - {name: concrete, material: concrete, thickness: 4 in, performs: [carry-load]}
      - {name: tile, material: ceramic-tile}
`
	brickWall = `    kind: wall
    between: [outdoors, room]
    STATE
    layers:
      - {name: brick, material: solid-brick-wall, thickness: 12 in}
      - {name: plaster, material: lime-plaster, thickness: 3/4 in}
`
	garageWall = `    kind: wall
    between: [outdoors, garage]
    STATE
    layers:
      - {name: siding, material: vinyl-siding}
      - {name: sheathing, material: osb, thickness: 7/16 in, performs: [brace]}
      - {name: bay, framing: {material: spf-lumber, size: 2x4, spacing: 16 in}}
`
	bathWall = `    kind: wall
    between: [outdoors, wet-room]
    STATE
    layers:
      - {name: siding, material: vinyl-siding}
      - {name: gap, cavity: 3/8 in, air: vented}
      - {name: felt, material: asphalt-felt-15}
      - {name: sheathing, material: osb, thickness: 7/16 in, performs: [brace]}
      - {name: bay, framing: {material: spf-lumber, size: 2x6, spacing: 16 in}, fill: [{material: fiberglass-batt, thickness: 5-1/2 in}]}
      - {name: sheet, material: polyethylene-6mil, sealed: yes}
      - {name: board, material: moisture-resistant-gypsum-board, thickness: 1/2 in}
      - {name: tile, material: ceramic-tile}
`
	iowa2018  = "des-moines-ia {edition: IRC-2018, state: IA, zone: 5A, confirmed: yes}"
	iowa2021  = "des-moines-ia {edition: IRC-2021, state: IA, zone: 5A, confirmed: yes}"
	iowa2024  = "des-moines-ia {edition: IRC-2024, state: IA, zone: 5A, confirmed: yes}"
	zone6     = "waterloo-ia {edition: IRC-2018, state: IA, zone: 6A, confirmed: yes}"
	wisconsin = "madison-wi {edition: IRC-2018, state: WI, zone: 6A, confirmed: yes}"
	minnesota = "minneapolis-st-paul-mn {edition: IRC-2018, state: MN, zone: 6A, confirmed: yes}"
)

// analyzedUnder analyzes one assembly under a code: place and code entry in one text.
func analyzedUnder(t *testing.T, tester rule.Tester, code, body, state string) report.Analysis {
	t.Helper()
	place, entry, _ := strings.Cut(code, " ")
	text := strings.NewReplacer("PLACE", place, "CODE", entry, "BODY", strings.ReplaceAll(body, "STATE", strings.ReplaceAll(state, "; ", "\n    "))).Replace(coded)
	house := resolve(t, tester.Base, "part.yaml", []byte(text))
	list, err := advisor.Analyze(context.Background(), tester, house.Assemblies)
	if err != nil {
		t.Fatal(err)
	}
	return list[0]
}

// TestTablesNameTheirCondition: each table says which of its conditions is met
// or on whom it depends, or what is missed. Figures: IECC R402.1 by edition as
// tabled by PNNL, Wisconsin Table 322.31-1, Minnesota 1322.0402, IRC R408,
// R506.2.3 and R806.2.
func TestTablesNameTheirCondition(t *testing.T) {
	tester := rule.Tester{Base: loadBase(t), System: quantity.InchPound}
	retiled := strings.Replace(slabOnGrade, "material: ceramic-tile", "material: ceramic-tile, state: proposed", 1)
	reboarded := strings.Replace(crawlFloor, "material: oak-floor, thickness: 3/4 in", "material: oak-floor, thickness: 3/4 in, state: proposed", 1)
	for _, test := range []struct {
		name, code, body, state string
		table                   string
		verdict                 kb.Verdict
		says                    string // part of the row that holds or depends, or of what a missed row lacks
	}{
		{"rafters of R-40, 2018", iowa2018, cathedral, "state: proposed", "energy-roof-2018", kb.Depends, "leaves no room for more"},
		{"rafters of R-40, 2021", iowa2021, cathedral, "state: proposed", "energy-roof-2021", kb.Depends, "leaves no room for more"},
		{"rafters of R-40, Wisconsin", wisconsin, cathedral, "state: proposed", "energy-ceiling-wisconsin", kb.No, "R-40.6 is less than R-49"},
		{"rafters of R-40, Minnesota", minnesota, cathedral, "state: proposed", "energy-ceiling-minnesota", kb.No, "R-40.6 is less than R-49"},
		{"attic of R-38, 2018", iowa2018, atticFloor, "state: proposed", "energy-attic-2018", kb.Depends, "full height over the wall plates"},
		{"attic of R-38, 2021", iowa2021, atticFloor, "state: proposed", "energy-attic-2021", kb.No, "is less than R-60"},
		{"attic of R-38, Wisconsin", wisconsin, atticFloor, "state: proposed", "energy-ceiling-wisconsin", kb.Depends, "full height over the wall plates"},
		{"attic with vents of 1/300", iowa2018, atticFloor, "state: proposed; space: {vents: 4.1 ft2, high: 45 %}", "roof-ventilation", kb.Yes, "1/300, 40 to 50 % of it high"},
		{"the same without a retarder in zone 6", zone6, atticFloor, "state: proposed; space: {vents: 4.1 ft2, high: 45 %}", "roof-ventilation", kb.No, "vapor retarder class inside"},
		{"attic with vents of 1/150", zone6, atticFloor, "state: proposed; space: {vents: 8.1 ft2}", "roof-ventilation", kb.Yes, "1/150"},
		{"vented roof with too little", iowa2018, cathedral, "state: proposed; space: {vents: 2 ft2, high: 45 %}", "roof-ventilation", kb.No, "is less than 0.333 %"},
		{"floor over a crawl space", iowa2018, crawlFloor, "state: proposed", "energy-floor", kb.Yes, "R-30 between the joists"},
		{"the same in 2024", iowa2024, crawlFloor, "state: proposed", "energy-floor", kb.Yes, "joist bays filled"},
		{"the same in Wisconsin", wisconsin, crawlFloor, "state: proposed", "energy-floor-wisconsin", kb.Yes, "R-38"},
		{"crawl space with vents and a sheet", iowa2018, crawlFloor, "state: proposed; space: {vents: 1 ft2, ground: laid}", "crawl-ventilation", kb.Yes, "1/1500"},
		{"crawl space with vents and bare ground", iowa2018, crawlFloor, "state: proposed; space: {vents: 1 ft2, ground: bare}", "crawl-ventilation", kb.No, "ground of the crawl space is bare"},
		{"closed crawl space with a fan", iowa2018, crawlFloor, "state: proposed; space: {vents: none, ground: sealed, air: exhaust}", "crawl-ventilation", kb.Depends, "1 cfm for each 50 ft2"},
		{"closed crawl space with still air", iowa2018, crawlFloor, "state: proposed; space: {vents: none, ground: sealed, air: still}", "crawl-ventilation", kb.No, "air of the crawl space is still"},
		{"crawl cover in Wisconsin", wisconsin, crawlFloor, "state: proposed; space: {ground: laid}", "crawl-cover-wisconsin", kb.No, "ground of the crawl space is laid"},
		{"crawl wall of R-15", iowa2018, crawlWall, "state: proposed", "energy-crawl-wall-2018", kb.Yes, "R-15 continuous"},
		{"crawl wall, 2021", iowa2021, crawlWall, "state: proposed", "energy-crawl-wall-2021", kb.Yes, "R-15 continuous"},
		{"crawl wall, 2024", iowa2024, crawlWall, "state: proposed", "energy-crawl-wall-2021", kb.Depends, "whether the table of 2024 has the figure of 2021"},
		{"crawl wall, Wisconsin", wisconsin, crawlWall, "state: proposed", "energy-crawl-wall-wisconsin", kb.Yes, "R-10 continuous"},
		{"crawl wall, Minnesota", minnesota, crawlWall, "state: proposed", "energy-crawl-wall-minnesota", kb.Yes, "R-15"},
		{"basement wall of R-15", iowa2018, cellarWall, "state: proposed", "energy-basement-wall-2018", kb.Yes, "R-15 continuous"},
		{"basement wall, Wisconsin", wisconsin, cellarWall, "state: proposed", "energy-basement-wall-wisconsin", kb.Yes, "R-15 continuous"},
		{"slab edge, 2018", iowa2018, slabOnGrade, "state: proposed; edge: {insulation: R-10, depth: 2 ft}", "energy-slab-2018", kb.Yes, "R-10, 2 ft deep"},
		{"slab edge in zone 6", zone6, slabOnGrade, "state: proposed; edge: {insulation: R-10, depth: 2 ft}", "energy-slab-2018", kb.No, "depth of the edge insulation 24 in is less than 48 in"},
		{"slab edge, 2021", iowa2021, slabOnGrade, "state: proposed; edge: {insulation: R-10, depth: 2 ft}", "energy-slab-2021", kb.No, "is less than 48 in"},
		{"slab edge, Wisconsin", wisconsin, slabOnGrade, "state: proposed; edge: {insulation: R-10, depth: 4 ft}", "energy-slab-wisconsin", kb.Depends, "whether pipes heat the slab"},
		{"slab edge, Minnesota", minnesota, slabOnGrade, "state: proposed; edge: {insulation: R-10, depth: 3 ft}", "energy-slab-minnesota", kb.No, "is less than 42 in"},
		{"bare slab edge", iowa2018, slabOnGrade, "state: proposed; edge: {insulation: none}", "energy-slab-2018", kb.No, "R-0 is less than R-10"},
		{"slab that says nothing of its edge", iowa2018, slabOnGrade, "state: proposed", "energy-slab-2018", kb.Unknown, "is not known"},
		{"basement floor", iowa2018, slabOnGrade, "state: proposed; below-grade: 6 ft", "energy-slab-2018", "", ""},
		{"sheet of 6 mil, 2018", iowa2018, slabOnGrade, "state: proposed", "slab-retarder", kb.Yes, "6 mil or more"},
		{"sheet of 6 mil, 2021", iowa2021, slabOnGrade, "state: proposed", "slab-retarder", kb.No, "no layer with"},
		{"bare brick wall", iowa2018, brickWall, "state: proposed", "energy-mass-wall", kb.No, "is less than R-13"},
		{"bare brick wall, Wisconsin", wisconsin, brickWall, "state: proposed", "energy-mass-wall-wisconsin", kb.No, "is less than R-19"},
		{"new tile on a slab that stays", iowa2018, retiled, "state: existing", "energy-slab-2018", "", ""},
		{"new boards on a floor that stays", iowa2018, reboarded, "state: existing; space: {vents: 1 ft2, ground: bare}", "crawl-ventilation", kb.Yes, "stay as they are"},
		{"the same floor and its insulation", iowa2021, reboarded, "state: existing", "energy-floor", kb.Yes, "gets no insulation by this work"},
		{"wall of a garage", iowa2018, garageWall, "state: proposed", "energy-wall-2018-zones-4-5", "", ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			a := analyzedUnder(t, tester, test.code, test.body, test.state)
			i := slices.IndexFunc(a.Codes, func(x rule.TableAnswer) bool { return x.Table.ID == test.table })
			if (i < 0) != (test.verdict == "") {
				t.Fatalf("the table is answered: %v", i >= 0)
			}
			if i < 0 {
				return
			}
			if a.Codes[i].Verdict != test.verdict {
				t.Errorf("%s, want %s", a.Codes[i].Verdict, test.verdict)
			}
			if words := wordsOfTable(&a, i); !strings.Contains(words, test.says) {
				t.Errorf("no word of %q in: %s", test.says, words)
			}
		})
	}
}

// wordsOfTable joins the rows that hold or depend; for a missed or unknown table all
// that its finding says of its rows.
func wordsOfTable(a *report.Analysis, i int) string {
	code := &a.Codes[i]
	rows := code.Rows
	for _, f := range a.Findings {
		if f.Rule == code.Table.ID && (f.Verdict == kb.No || f.Verdict == kb.Unknown) {
			rows = f.Rows
		}
	}
	var words []string
	for _, r := range rows {
		words = append(words, r.Row)
		for _, b := range r.Because {
			words = append(words, b.Text)
		}
	}
	return strings.Join(words, "; ")
}

// TestWhatStandsIsNotJudged: no energy, vent, crawl or slab table applies to an
// assembly that stands untouched, and what other codes say of it is information.
func TestWhatStandsIsNotJudged(t *testing.T) {
	tester := rule.Tester{Base: loadBase(t), System: quantity.InchPound}
	vents := "; space: {vents: 1 ft2}"
	for _, code := range []string{iowa2018, iowa2021, iowa2024, wisconsin, minnesota} {
		for name, body := range map[string][2]string{
			"roof": {cathedral, vents}, "attic floor": {atticFloor, vents}, "floor": {crawlFloor, "; space: {vents: 1 ft2, ground: bare}"}, "crawl wall": {crawlWall, ""},
			"basement wall": {cellarWall, "; footing-break: no"}, "slab": {slabOnGrade, "; edge: {insulation: none}"}, "brick wall": {brickWall, ""}, "bath": {bathWall, ""},
		} {
			a := analyzedUnder(t, tester, code, body[0], "state: existing"+body[1])
			for _, c := range a.Codes {
				if slices.Contains([]string{"energy", "crawl", "slab"}, c.Table.Subject) || c.Table.ID == "roof-ventilation" {
					t.Errorf("%s under %s: %s judges what stands", name, code, c.Table.ID)
				}
			}
			for _, f := range a.Findings {
				if f.Kind == "code" && f.Level != "info" {
					t.Errorf("%s under %s: %s is of level %s", name, code, f.Rule, f.Level)
				}
			}
		}
	}
}

// A new floor on a slab that stands asks for no sheet below the slab and no edge.
func TestNewFloorOnOldSlab(t *testing.T) {
	tester := rule.Tester{Base: loadBase(t), System: quantity.InchPound}
	body := strings.NewReplacer("      - {name: sheet, material: polyethylene-6mil, sealed: yes}\n", "", "material: ceramic-tile}", "material: ceramic-tile, state: proposed}").Replace(slabOnGrade)
	for _, code := range []string{iowa2018, iowa2021, wisconsin, minnesota} {
		for _, c := range analyzedUnder(t, tester, code, body, "state: existing; edge: {insulation: none}").Codes {
			if c.Table.Subject == "slab" || c.Table.Subject == "energy" {
				t.Errorf("%s: %s judges the slab that stands", code, c.Table.ID)
			}
		}
	}
}

// TestGroundFindings: what is said of slabs, footings, crawl spaces and baths
// when the description gives it, and what is asked when it does not.
func TestGroundFindings(t *testing.T) {
	tester := rule.Tester{Base: loadBase(t), System: quantity.InchPound}
	bare := strings.NewReplacer("      - {name: gravel, material: gravel-bed, thickness: 4 in}\n", "", "      - {name: sheet, material: polyethylene-6mil, sealed: yes}\n", "").Replace(slabOnGrade)
	noSheet := strings.Replace(slabOnGrade, "      - {name: sheet, material: polyethylene-6mil, sealed: yes}\n", "", 1)
	coated := strings.Replace(cellarWall, "performs: [carry-load]}", "performs: [carry-load], coats: {out: [{coating: asphalt-dampproofing}]}}", 1)
	backer := strings.Replace(bathWall, "moisture-resistant-gypsum-board", "cement-board", 1)
	for _, test := range []struct {
		name, body, state, rule string
		want                    kb.Verdict // empty: silent
	}{
		{"slab on bare ground", bare, "state: proposed", "slab-on-bare-ground", kb.No},
		{"the same where it stands", bare, "state: existing", "slab-on-bare-ground", kb.No},
		{"gravel alone breaks it", noSheet, "state: proposed", "slab-on-bare-ground", ""},
		{"basement floor without gravel", strings.Replace(slabOnGrade, "      - {name: gravel, material: gravel-bed, thickness: 4 in}\n", "", 1), "state: proposed; below-grade: 6 ft", "slab-without-capillary-break", kb.Depends},
		{"slab on grade without gravel", strings.Replace(slabOnGrade, "      - {name: gravel, material: gravel-bed, thickness: 4 in}\n", "", 1), "state: proposed", "slab-without-capillary-break", ""},
		{"footing not described", cellarWall, "state: proposed", "footing-break-not-given", kb.Unknown},
		{"footing without a break", cellarWall, "state: proposed; footing-break: no", "footing-without-break", kb.No},
		{"footing with a break", cellarWall, "state: proposed; footing-break: yes", "footing-without-break", ""},
		{"no dampproofing", cellarWall, "state: proposed", "basement-without-dampproofing", kb.No},
		{"dampproofed", coated, "state: proposed", "basement-without-dampproofing", ""},
		{"an old wall without", cellarWall, "state: existing", "basement-without-dampproofing", ""},
		{"crawl space not described", crawlFloor, "state: proposed", "crawl-ground-cover", kb.Depends},
		{"crawl space described", crawlFloor, "state: proposed; space: {vents: 8 ft2, ground: sealed}", "crawl-ground-cover", ""},
		{"bare ground in an old crawl space", crawlFloor, "state: existing; space: {ground: bare}", "crawl-bare-ground", kb.No},
		{"attic not described", atticFloor, "state: proposed", "attic-ventilation", kb.Depends},
		{"vented roof not described", cathedral, "state: proposed", "attic-ventilation", kb.Depends},
		{"attic described", atticFloor, "state: proposed; space: {vents: 9 ft2}", "attic-ventilation", ""},
		{"paper behind tile", bathWall, "state: proposed", "tile-without-backer", kb.Depends},
		{"water-resistant gypsum over plastic", bathWall, "state: proposed", "wet-gypsum-over-retarder", kb.Depends},
		{"cement board behind tile", backer, "state: proposed", "tile-without-backer", ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			a := analyzedUnder(t, tester, iowa2018, test.body, test.state)
			i := slices.IndexFunc(a.Findings, func(f rule.Finding) bool { return f.Rule == test.rule })
			switch {
			case i < 0 && test.want != "":
				t.Errorf("%s says nothing", test.rule)
			case i >= 0 && a.Findings[i].Verdict != test.want:
				t.Errorf("%s says %s, want %q", test.rule, a.Findings[i].Verdict, test.want)
			}
		})
	}
}
