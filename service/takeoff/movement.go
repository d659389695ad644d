package takeoff

import (
	"strconv"
	"strings"

	"hodman/service/bond"
	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/movement"
	"hodman/service/schedule"
)

// joints are the movement joints within leaf k of a wall: those that the schedule
// gives, else, where it asks for them, as many as the leaf's material takes.
func (j *job) joints(wall, k int) []Joint {
	w, m := &j.schedule.Walls[wall], &j.leaves(wall)[k]
	spacing, width := movement.Rules(m.Unit.Kind)
	at := w.MovementJoints
	if len(at) == 0 {
		r := j.movementRun(wall, k)
		if r.Least() == 0 {
			return nil
		}
		placed, ok := movement.Place(r)
		j.tellJoints(wall, k, &r, placed, ok)
		if !ok || j.schedule.MovementJoints != "placed" {
			return nil
		}
		at = placed
	} else {
		j.checkPanels(wall, k, at)
	}
	list := make([]Joint, len(at))
	for i, x := range at {
		list[i] = Joint{At: x, Width: j.book.Length(width), Rule: spacing}
	}
	return list
}

// movementRun describes a leaf to the placing of its joints.
func (j *job) movementRun(wall, k int) movement.Run {
	w, m := &j.schedule.Walls[wall], &j.leaves(wall)[k]
	spacing, width := movement.Rules(m.Unit.Kind)
	left, right := j.faces(wall, k)
	r := movement.Run{From: left, To: w.Length - right, HeldLeft: held(w.Left), HeldRight: held(w.Right),
		Spacing: j.book.Length(spacing), Width: j.book.Length(width), Clear: j.book.Length("joint.movement_clear"), Strict: j.book.Count("joint.movement_strict") > 1,
		Step: (m.Unit.Length + m.Perpend) / 2, Perpend: m.Perpend}
	r.Openings = make([]movement.Reach, 0, len(w.Openings)+len(w.Piers))
	for i := range w.Openings {
		o := &w.Openings[i]
		r.Openings = append(r.Openings, movement.Reach{From: o.Left, To: o.Right()})
	}
	for i := range w.Piers {
		r.Openings = append(r.Openings, movement.Reach{From: w.Piers[i].At, To: w.Piers[i].At + w.Piers[i].Width})
	}
	if j.stems != nil {
		for i := range j.stems[wall] {
			e := &j.stems[wall][i]
			r.Openings = append(r.Openings, movement.Reach{From: e.From, To: e.To})
		}
	}
	return r
}

// held tells the ends that a panel cannot move at.
func held(e schedule.End) bool { return e != schedule.StopEnd && e != schedule.MovementJoint }

// tellJoints tells where a leaf takes joints that it does not have, or why they cannot be placed.
func (j *job) tellJoints(wall, k int, r *movement.Run, at []measure.Length, ok bool) {
	w, m := &j.schedule.Walls[wall], &j.leaves(wall)[k]
	rule, _ := movement.Rules(m.Unit.Kind)
	text := j.words.Say("wall ", w.Ref, ", ", m.Name, " leaf: runs ", r.To-r.From, " mm without a movement joint, over ", r.Spacing, " mm")
	severity, remedy := finding.Check, ""
	switch {
	case !ok:
		remedy = j.words.Say("no place is free of openings by ", r.Clear, " mm where panels stay within ", r.Spacing, " mm, and ", r.Spacing/2,
			" mm at a return: ask the designer, who may move an opening, or give movement_joints_mm")
	case j.schedule.MovementJoints == "placed":
		severity = finding.Note
		text = j.words.Say("wall ", w.Ref, ", ", m.Name, " leaf: ", counted(len(at), "movement joint"), " placed, ", places(at))
		remedy = "have the designer agree to them, or give movement_joints_mm"
	default:
		remedy = j.words.Say("ask the designer; ", counted(len(at), "joint"), " would do, ", places(at), ": ask for them with movement_joints: placed, or give movement_joints_mm")
	}
	code := "joint.movement_missing"
	if severity == finding.Note {
		code = "joint.movement_placed"
	}
	j.note(severity, code, j.wallAt(wall)+"/length_mm", text, remedy, rule)
}

// told is how many places a finding lists.
const told = 12

// places is "beginning at 4040 and 12027.5 mm"; of very many, the first of them and how many more.
func places(at []measure.Length) string {
	words := make([]string, 0, told+1)
	for _, x := range at[:min(len(at), told)] {
		words = append(words, x.String())
	}
	unit := " mm"
	if more := len(at) - told; more > 0 {
		words[told-1] += " mm"
		words, unit = append(words, strconv.Itoa(more)+" more"), ""
	}
	if n := len(words); n > 1 {
		words[n-2] += " and " + words[n-1]
		words = words[:n-1]
	}
	return "beginning at " + strings.Join(words, ", ") + unit
}

// checkPanels tells of a panel that joints given by hand leave too long.
func (j *job) checkPanels(wall, k int, at []measure.Length) {
	w, m := &j.schedule.Walls[wall], &j.leaves(wall)[k]
	rule, _ := movement.Rules(m.Unit.Kind)
	r := j.movementRun(wall, k)
	if over := r.Longest(at); over > 0 {
		j.note(finding.Check, "joint.movement_panel", j.wallAt(wall)+"/movement_joints_mm",
			"wall "+w.Ref+", "+m.Name+" leaf: a panel between joints is "+over.String()+" mm long; "+r.Spacing.String()+" mm is the most, and half of that to a return",
			"add a joint, or move one; "+strconv.Itoa(r.Least())+" at least would do", rule)
	}
}

// gaps are a leaf's movement joints as the laying takes them.
func gaps(joints []Joint) []bond.Gap {
	list := make([]bond.Gap, len(joints))
	for i, t := range joints {
		list[i] = bond.Gap{From: t.At, To: t.At + t.Width, Joint: true}
	}
	return list
}
