package kb

import "relath/kb/strict"

// Form says how a material sits in an assembly.
type Form string

// The forms. A sheet or a coat has no geometric thickness, no thermal
// resistance and no storage: it is a vapor resistance between layers.
const (
	Board   Form = "board"   // boards, panels, planks
	Sheet   Form = "sheet"   // papers, felts, films, wraps, foils, facings
	Fill    Form = "fill"    // batts, blown and foamed fills between framing
	Plaster Form = "plaster" // plasters, renders, stucco
	Masonry Form = "masonry" // units with mortar, stone, concrete, earth
	Framing Form = "framing" // studs, joists, rafters
	Coat    Form = "coat"    // paints and other coatings
	Unit    Form = "unit"    // doors, cabinets, trim, roofing units: not a vapor layer
	Joint   Form = "joint"   // adhesives, tapes, sealants
)

// Allowed lists the forms.
func (Form) Allowed() []string {
	return []string{"board", "sheet", "fill", "plaster", "masonry", "framing", "coat", "unit", "joint"}
}

// MoldClass is the sensitivity class of a surface in the mold index model.
type MoldClass string

// Allowed lists the classes from the most to the least sensitive.
func (MoldClass) Allowed() []string {
	return []string{"very-sensitive", "sensitive", "medium-resistant", "resistant"}
}

// Material is one entry of materials/ or coatings/: what a layer is made of.
type Material struct {
	Pos       strict.Pos `yaml:",pos"`
	ID        string     `yaml:"id,required"`
	Name      string     `yaml:"name,required"`
	Family    string     `yaml:"family,required"` // the folder it stands in
	Also      []string   `yaml:"also"`            // other names builders use, for search
	Summary   string     `yaml:"summary,required"`
	Form      Form       `yaml:"form,required"`
	Terms     []string   `yaml:"terms"` // closed vocabulary of terms.yaml that rules and code tables read
	Thickness Thickness  `yaml:"thickness"`
	Era       Era        `yaml:"era"`
	Available string     `yaml:"available"` // stocked, ordered, salvaged, no-longer
	Duties    []Offer    `yaml:"duties"`

	Composition Composition `yaml:"composition"`
	Mold        Mold        `yaml:"mold"`
	Breakdown   string      `yaml:"breakdown"` // solid plies strands particles fibers film mineral foam loose
	Drying      string      `yaml:"drying"`    // in words: how it takes up and gives off water
	Care        string      `yaml:"care"`
	Cautions    []string    `yaml:"cautions"`  // ids of cautions.yaml that always go with it
	Coating     *Coating    `yaml:"coating"`   // for form coat
	StandsIn    string      `yaml:"stands-in"` // material whose storage data the hourly model may use, assumed
	Advise      string      `yaml:"advise"`    // "no": never a recommended alternative (grade D, hazards, obsolete)
	Notes       []string    `yaml:"notes"`     // decisions taken, disagreements, what was rejected and why

	Values []Value  `yaml:"values"`
	Choose []Choice `yaml:"choose"`
}

// Thickness says in which thicknesses a material is used.
type Thickness struct {
	Usual strict.Text   `yaml:"usual"`
	Sold  []strict.Text `yaml:"sold"`
	Least strict.Text   `yaml:"least"`
	Most  strict.Text   `yaml:"most"`

	UsualSI float64   `yaml:"-"` // m
	SoldSI  []float64 `yaml:"-"`
	LeastSI float64   `yaml:"-"`
	MostSI  float64   `yaml:"-"`
}

// Era bounds the years in which a material was commonly built in; 0 is open.
type Era struct {
	From int `yaml:"from"`
	To   int `yaml:"to"`
}

// Offer is a duty that a material can take, and on which terms.
type Offer struct {
	Pos     strict.Pos  `yaml:",pos"`
	Duty    string      `yaml:"duty,required"`
	As      string      `yaml:"as"`      // place in a chain: cladding gap barrier flashing; or a listed method, such as WSP, DWB
	From    strict.Text `yaml:"from"`    // least thickness
	Needs   string      `yaml:"needs"`   // in words: sealed joints, 16 in studs, ...
	Verdict string      `yaml:"verdict"` // "depends": never a plain yes
	Note    string      `yaml:"note"`
	Basis   Basis       `yaml:"basis"`

	FromSI float64 `yaml:"-"` // m
}

// Composition says what a material contains; amounts are values (properties
// adhesive-share, mineral-share, ...), this holds the words.
type Composition struct {
	Adhesive     string   `yaml:"adhesive"` // none, or its type
	Food         []string `yaml:"food"`     // what mold can eat: paper, wood, starch, dust ...
	Mineral      string   `yaml:"mineral"`
	Plastic      string   `yaml:"plastic"`
	Formaldehyde string   `yaml:"formaldehyde"` // regulated, none, or words
	Treatment    string   `yaml:"treatment"`    // borate, ammonium salts, ...
	Basis        Basis    `yaml:"basis"`
}

// Mold gives the sensitivity class of each face and the reason for it.
type Mold struct {
	Face  MoldClass `yaml:"face"` // the face toward the room or weather, or both
	Back  MoldClass `yaml:"back"` // when it differs
	Why   string    `yaml:"why"`
	Basis Basis     `yaml:"basis"`
}

// Coating holds what only paints and the like have.
type Coating struct {
	Binder     string   `yaml:"binder,required"`
	On         []string `yaml:"on"`  // terms of substrates it suits
	Not        []string `yaml:"not"` // terms of substrates it must not go on
	UsualCoats int      `yaml:"usual-coats"`
	Renewal    string   `yaml:"renewal"`
}

// Choice names the preferred value where several sources give one property.
type Choice struct {
	Pos      strict.Pos `yaml:",pos"`
	Property string     `yaml:"property,required"`
	Method   string     `yaml:"method"` // when the choice is for one test method
	Source   string     `yaml:"source,required"`
	Locator  string     `yaml:"locator"` // when one source has several rows
	Why      string     `yaml:"why,required"`
}

// System is a measured substrate with its coats; it beats a series sum.
type System struct {
	Pos       strict.Pos  `yaml:",pos"`
	ID        string      `yaml:"id,required"`
	Name      string      `yaml:"name,required"`
	Substrate string      `yaml:"substrate,required"` // id of a material
	Thickness strict.Text `yaml:"thickness"`
	Coats     []string    `yaml:"coats"` // ids of coatings, from the substrate outward
	Values    []Value     `yaml:"values,required"`
	Choose    []Choice    `yaml:"choose"`
	Notes     []string    `yaml:"notes"`

	ThicknessSI float64 `yaml:"-"`
}
