package takeoff

import (
	"hodman/service/bond"
	"hodman/service/finding"
	"hodman/service/lift"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
	"hodman/service/schedule"
	"hodman/service/wording"
)

// Compute counts a schedule that has passed its check. It is a pure function of
// its arguments.
func Compute(s *schedule.Schedule, cat *product.Catalogue, book *rulebook.Book) *Takeoff {
	j := newJob(s, cat, book)
	j.compute()
	return j.out
}

func (j *job) compute() {
	j.lay()
	j.countUnits()
	j.countMortar()
	j.countLintels()
	j.countAncillaries()
	j.out.Lines, j.out.Lifts = j.ledger.close(&j.levels, &j.words)
	j.out.Cautions = cautions(len(j.out.Lintels) > 0)
}

// job is one takeoff under way.
type job struct {
	schedule *schedule.Schedule
	cat      *product.Catalogue
	book     *rulebook.Book
	types    map[string][]schedule.Made
	meetings [][][2]schedule.Meeting // by wall, by leaf, left and right
	stems    [][]schedule.Stem       // by wall: what meets it in its length; nil: nothing anywhere
	levels   lift.Levels
	units    []*units // in order of first appearance
	mixes    []*mix
	laid     [][]Laid           // by wall and leaf, as it was tallied
	lintels  [][]measure.Length // chosen, by wall and opening; nought: none
	given    [][]setLeaf        // by wall, where the schedule asks how it is best set out
	ledger   ledger
	words    wording.Writer
	gang     bond.Gang
	// cuts and splits are room for those of one leaf; lists is for those of the next leaves.
	cuts, splits, lists []Cut
	// weights and shares are room for what is parted among the lifts.
	weights, shares []int64
	out             *Takeoff
}

func newJob(s *schedule.Schedule, cat *product.Catalogue, book *rulebook.Book) *job {
	j := &job{schedule: s, cat: cat, book: book, types: make(map[string][]schedule.Made, len(s.WallTypes))}
	j.out = &Takeoff{ScheduleReference: s.Reference, Rulebook: book.ID(), Catalogue: cat.ID(),
		Findings: make([]finding.Finding, 0, max(leastFindings, findingsAWall*len(s.Walls)))}
	for i := range s.WallTypes {
		t := &s.WallTypes[i]
		j.types[t.Key] = t.Leaves(cat, book)
	}
	j.meetings, j.stems = s.Meetings(j.leaves), s.Stems(j.leaves)
	j.levels = lift.LevelsOf(s, book.Length("lift.height"))
	j.checkLifts()
	j.out.Walls = make([]Wall, len(s.Walls))
	j.laid = make([][]Laid, len(s.Walls))
	total := 0
	for i := range s.Walls {
		total += len(j.leaves(i))
	}
	laid, leaves := make([]Laid, total), make([]Leaf, total)
	for i := range s.Walls {
		n := len(j.leaves(i))
		j.out.Walls[i] = Wall{Ref: s.Walls[i].Ref, Leaves: leaves[:n:n]}
		j.laid[i], laid, leaves = laid[:n:n], laid[n:], leaves[n:]
		for k := range j.out.Walls[i].Leaves {
			j.out.Walls[i].Leaves[k].Joints = j.joints(i, k)
		}
	}
	return j
}

// How many findings a job mostly comes to; more only cost another allocation.
const (
	leastFindings = 32
	findingsAWall = 6
)

// leaves are the leaves of wall i.
func (j *job) leaves(i int) []schedule.Made { return j.types[j.schedule.Walls[i].Type] }

// lay lays every leaf of every wall, chain by chain, and tallies the pieces.
func (j *job) lay() {
	rules := bond.Rules{LeastCut: j.book.Ratio("bond.least_cut"), LeastSplit: j.book.Length("bond.split_least")}
	for _, c := range j.chains() {
		for k := range j.mostLeaves(c) {
			for _, part := range j.parts(c, k) {
				runs := j.runs(part, k)
				laid := j.setOut(part, k, runs, rules)
				for n, i := range part.walls {
					j.laid[i][k] = Laid{Made: runs[n].Leaf, Laying: laid[n]}
					j.tally(i, k, &runs[n], &laid[n])
				}
			}
		}
	}
	for i := range j.schedule.Walls {
		j.checkCoursing(i)
	}
	j.checkTies()
	j.checkJunctions()
	if j.schedule.SettingOut != "" {
		j.findNudges(rules)
	}
}

func (j *job) note(severity finding.Severity, code, at, text, remedy, rule string) {
	j.out.Findings = append(j.out.Findings, finding.Finding{Severity: severity, Code: code, At: at, Text: text, Remedy: remedy, Rule: rule})
}

// cautions ride with every takeoff; no figure here replaces the people they name.
func cautions(lintels bool) []string {
	list := []string{
		"Quantities for ordering, counted by rule from the schedule as given: check it against the drawings before anything is bought.",
	}
	if lintels {
		list = append(list, "Lintels are chosen by length and bearing only; no load was looked at. A structural engineer and the local building code decide what carries an opening.")
	}
	return append(list,
		"Lift loads say what is needed, not what a platform may carry: the scaffold's design and handover certificate rule.",
		"Handling and lifting need an assessment on site.")
}

// areaRate is what the area rule takes a square metre for: units of the leaf with
// their joints, rounded up (60 UK bricks, 10 UK blocks).
func areaRate(m *schedule.Made) int64 {
	module := (m.Unit.Length + m.Perpend).Times(m.Unit.Height + m.Bed)
	return measure.CeilDiv(int64(measure.SquareMetre), int64(module))
}
