package swap

// recipes are the recipes of these tests, without what every recipe has.
func recipes() map[string]string {
	return map[string]string{
		"run": `
replaces:
  - [{terms: [plastic-film]}]
  - [{terms: [gypsum-board]}]
with:
  - {name: membrane, material: variable-retarder-polyamide, sealed: yes}
  - {name: clay, material: clay-board}
  - {name: finish, material: clay-plaster, thickness: 1/4 in, coats: {in: [{coating: casein-paint, count: 2}]}}
`,
		"left-out": `
replaces: [[{terms: [plastic-film]}]]
`,
		"added": `
after: [{side: [bay]}]
with: [{name: membrane, material: variable-retarder-polyamide, sealed: yes}]
`,
		"unique": `
replaces: [[{outermost: yes}]]
with:
  - {name: board, material: bevel-wood-siding}
  - {name: gap, cavity: 3/4 in, air: vented}
  - {name: gap 2, material: asphalt-felt-15}
`,
		"same-thickness": `
replaces: [[{terms: [osb]}]]
with: [{name: sheathing, material: diagonal-board-sheathing, thickness: same, performs: [brace]}]
`,
		"beside": `
replaces: [[{terms: [gypsum-board]}]]
with: [{name: plaster, material: clay-plaster, thickness: 3/4 in}]
beside:
  - {when: [{zone: ["5"]}], do: "A membrane goes behind it.", layer: {name: membrane, material: variable-retarder-polyamide, sealed: yes}, place: before}
  - {when: [{zone: ["5"]}], do: "A finish goes over it.", layer: {name: finish, material: clay-finish-plaster, thickness: 1/8 in}, place: after}
  - {when: [{zone: ["6"]}], do: "Something for zone 6."}
  - {do: "Mask the floor."}
  - {when: [{built-before-1950: yes}], do: "Look at the old wiring."}
`,
		"kept-coats": `
replaces: [[{terms: [gypsum-board]}]]
with: [{name: board, material: gypsum-board, thickness: same, coats: {keep: yes, in: [{coating: vapor-retarder-primer}]}}]
`,
		"film": `
replaces: [[{terms: [plastic-film]}]]
with: [{name: membrane, material: variable-retarder-polyamide}]
`,
		"stays-and-seals": `
replaces: [[{form: [framing]}], [{terms: [gypsum-board]}]]
with:
  - {name: any, keep: layer, performs: [brace]}
  - {name: membrane, material: variable-retarder-polyamide, sealed: yes}
  - {name: any, keep: layer, sealed: yes}
`,
		"seals": `
replaces: [[{terms: [gypsum-board]}]]
with: [{name: any, keep: layer, sealed: yes}]
gains: [stop-air]
`,
		"seals-for-nothing": `
replaces: [[{terms: [gypsum-board]}]]
with: [{name: any, keep: layer, sealed: yes}]
`,
		"fill": `
replaces: [[{form: [framing]}]]
with: [{name: bay, keep: framing, material: wood-fiber-batt}]
`,
		"fill-of-4-in": `
replaces: [[{form: [framing]}]]
with: [{name: bay, keep: framing, material: wood-fiber-batt, thickness: 4 in}]
`,
		"fill-of-the-same": `
replaces: [[{form: [framing]}]]
with: [{name: bay, keep: framing, material: wood-fiber-batt, thickness: same}]
`,
		"fill-kept": `
replaces: [[{form: [framing]}]]
with: [{name: bay, keep: framing, performs: [brace]}]
`,
		"repaint": `
replaces: [[{terms: [lime-plaster]}]]
coats: {in: [{coating: limewash, count: 4}]}
`,
		"coat-over": `
replaces: [[{terms: [lime-plaster]}]]
coats: {keep: yes, in: [{coating: latex-paint}]}
`,
		"coat-outside": `
replaces: [[{terms: [lime-plaster]}]]
coats: {out: [{coating: silicate-paint, count: 2}]}
`,
		"board-and-plaster": `
replaces: [[{terms: [plastic-film]}], [{terms: [gypsum-board]}]]
with: [{name: panel, material: gypsum-board, thickness: same}, {name: plaster, material: clay-finish-plaster, thickness: 1/8 in}]
`,
		"fill-and-film": `
replaces: [[{form: [framing]}], [{terms: [plastic-film]}]]
with: [{name: bay, keep: framing, material: wood-fiber-batt}, {name: membrane, material: variable-retarder-polyamide, sealed: yes}]
`,
		"each-sheet": `
replaces: [[{form: [sheet]}]]
with: [{name: sheet, material: building-paper-grade-d}]
`,
		"two-sheets": `
replaces: [[{form: [sheet]}], [{form: [sheet]}]]
with: [{name: sheet, material: building-paper-grade-d}]
`,
		"fits-wet-rooms": `
replaces: [[{terms: [plastic-film]}]]
with: [{name: membrane, material: variable-retarder-polyamide}]
fits: [{wet-room: yes}]
`,
		"fits-plaster": `
replaces: [[{terms: [plastic-film]}]]
with: [{name: membrane, material: variable-retarder-polyamide}]
fits: [{some-layer: [{terms: [lime-plaster]}]}]
`,
		"fits-old-houses": `
replaces: [[{terms: [plastic-film]}]]
with: [{name: membrane, material: variable-retarder-polyamide, sealed: yes}]
fits: [{built-before-1950: yes}]
unfit:
  - {when: [{built-before-1930: yes}], say: "Not in a house in zone {zone} before 1930."}
`,
		"needs": `
replaces: [[{terms: [plastic-film]}]]
with: [{name: membrane, material: variable-retarder-polyamide, sealed: yes}]
needs:
  - {when: [{existing: yes}], who: engineer, what: what stands}
  - {when: [{opens: [inside]}], who: electrician, what: what is opened}
  - {when: [{built-before-1950: yes}], who: plumber, what: what is old}
  - {when: [{zone: ["8"]}], who: abatement-contractor, what: what is cold}
`,
		"unmeasured": `
replaces: [[{terms: [osb]}]]
with: [{name: sheathing, material: unmeasured-board, performs: [brace]}]
`,
		"without-bracing": `
replaces: [[{terms: [osb]}]]
with: [{name: sheathing, material: wood-fiber-sheathing-board}]
`,
		"foil": `
replaces: [[{terms: [osb]}]]
with: [{name: sheathing, material: osb, thickness: same, performs: [brace]}, {name: foil, material: aluminum-foil}]
`,
	}
}

// entries are other entries of these tests, by path.
func entries() map[string]string {
	return map[string]string{
		// Speaks of work in assemblies that ask for blocked spaces.
		"rules/test-code.yaml": `
id: test-code
title: test code
kind: code
level: block
judges: proposed
when: [{needs: [block-fire]}]
say: A test.
why: A test.
basis: [{source: relath, locator: test, evidence: assumed}]
avoid: none
prefer: none
`,
		"materials/test/unmeasured-board.yaml": `
id: unmeasured-board
name: Unmeasured board
family: test
summary: An invented board of which nobody has measured the conductivity.
form: board
terms: [sheathing]
thickness: {usual: 1/2 in}
duties: [{duty: brace}]
values:
  - {property: permeance, value: 20 perm, source: relath, locator: test, evidence: assumed}
`,
	}
}
