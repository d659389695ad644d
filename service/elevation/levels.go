package elevation

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"hodman/service/measure"
)

// tops are the levels at which a leaf's courses top out, above the wall's base, by course from the first.
func (l *Leaf) tops() []measure.Length {
	last := 0
	bands := l.Laying.Bands
	for b := range bands {
		last = max(last, bands[b].First+(bands[b].Count-1)*bands[b].Step)
	}
	tops := make([]measure.Length, last)
	gauge := l.Made.Gauge()
	for b := range bands {
		if bands[b].Foot != measure.Length(bands[b].First-1)*gauge+l.Made.Bed {
			continue // laid of other units, which have no say in the courses' levels
		}
		for k := range bands[b].Count {
			tops[bands[b].First+k*bands[b].Step-1] = bands[b].Head + measure.Length(k)*bands[b].Rise
		}
	}
	for n := range tops {
		if tops[n] == 0 {
			tops[n] = measure.Length(n+1) * gauge
		}
	}
	return tops
}

// courses draws the coursing scale: a tick a course, its number and level every so many.
func (d *drawing) courses(v *view) {
	tops := d.sheet.Leaves[v.leaf].tops()
	if len(tops) == 0 {
		return
	}
	gauge := d.sheet.Leaves[v.leaf].Made.Unit.Height + d.sheet.Leaves[v.leaf].Made.Bed
	step := 1
	for _, s := range []int{1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000} {
		if step = s; measure.Length(s)*gauge >= d.em(13) {
			break
		}
	}
	x := v.from
	if v.first {
		from, _ := d.reach(v.leaf)
		x = min(from, 0)
	}
	x -= d.em(9)
	d.put(`<path class="n" d="M`, along(x), " 0V", -tops[len(tops)-1])
	for n, z := range tops {
		if (n+1)%step == 0 {
			d.put("M", along(x-d.em(6)))
			d.next(-z)
			d.put("H", along(x))
		} else if gauge >= d.em(2) {
			d.put("M", along(x-d.em(3)))
			d.next(-z)
			d.put("H", along(x))
		}
	}
	d.put(`"/>`)
	for n := step; n <= len(tops); n += step {
		if n > step && tops[n-1]-tops[n-step-1] < d.em(10) {
			continue // a closing course has no room for its own
		}
		d.words("s e", x-d.em(8), -tops[n-1]+d.em(3), strconv.Itoa(n)+"  "+level(tops[n-1]+d.sheet.Wall.Base))
	}
}

// label is one level with its words.
type label struct {
	z    measure.Length
	rank int
	text string
	at   measure.Length // where the words stand
}

// levels draws the levels at the right of a view.
func (d *drawing) levels(v *view) {
	list := d.labels(v)
	slices.SortStableFunc(list, func(a, b label) int { return cmp.Or(cmp.Compare(a.z, b.z), cmp.Compare(a.rank, b.rank)) })
	list = d.fewer(merged(list))
	last := -d.em(100)
	for i := range list {
		list[i].at = max(list[i].z, last+d.em(10))
		last = list[i].at
	}
	x := v.to
	if _, to := d.reach(v.leaf); v.last {
		x = max(x, to)
	}
	for i := range list {
		l := &list[i]
		d.put(`<path class="n" d="M`, along(x+d.em(4)))
		d.next(-l.z)
		d.put("H", along(x+d.em(9)), "L", along(x+d.em(14)))
		d.next(-l.at)
		d.put("H", along(x+d.em(17)), `"/>`)
		d.words("s", x+d.em(19), -l.at+d.em(3), l.text+" "+level(l.z+d.sheet.Wall.Base))
	}
}

// fewer leaves out sills and heads, every other one at a time, where a low wall has no room for all.
func (d *drawing) fewer(list []label) []label {
	room := int((d.high + d.em(30)) / d.em(10))
	for len(list) > room {
		kept, out := list[:0:0], false
		for _, l := range list {
			if l.rank == sillRank || l.rank == headRank {
				if out = !out; out {
					continue
				}
			}
			kept = append(kept, l)
		}
		if len(kept) == len(list) {
			break
		}
		list = kept
	}
	return list
}

// Ranks of labels at one level that others of it leave room for.
const (
	sillRank = 2
	headRank = 3
)

// merged puts the names of one level together where they are short.
func merged(list []label) []label {
	out := list[:1]
	for _, l := range list[1:] {
		if last := &out[len(out)-1]; last.z == l.z && len(last.text)+len(l.text) <= 13 {
			last.text += ", " + strings.ToLower(l.text[:1]) + l.text[1:]
		} else {
			out = append(out, l)
		}
	}
	return out
}

// labels are the levels of a view: sills and heads of its openings, lifts, damp-proof course, top.
func (d *drawing) labels(v *view) []label {
	w := d.sheet.Wall
	var list []label
	add := func(rank int, z measure.Length, name string) {
		list = append(list, label{z: z, rank: rank, text: name})
	}
	add(0, 0, "Base")
	if d.sheet.DPC != nil {
		add(1, *d.sheet.DPC-w.Base, "DPC")
	}
	sills, heads := map[measure.Length][]string{}, map[measure.Length][]string{}
	for i := range w.Openings {
		o := &w.Openings[i]
		if o.Right() <= v.from || o.Left >= v.to {
			continue
		}
		if o.Sill > 0 {
			sills[o.Sill] = append(sills[o.Sill], o.Ref)
		}
		heads[o.Top()] = append(heads[o.Top()], o.Ref)
	}
	for z, refs := range sills {
		add(sillRank, z, several("Sill", refs))
	}
	for z, refs := range heads {
		add(headRank, z, several("Head", refs))
	}
	for i, top := range d.sheet.Lifts {
		if z := top - w.Base; z > 0 && z <= d.high {
			add(4, z, "Lift "+strconv.Itoa(i+1))
		}
	}
	add(5, w.Height, "Top")
	if d.high > w.Height {
		name := "Apex"
		if w.Top.Shape != "gable" {
			name = "Highest"
		}
		add(6, d.high, name)
	}
	return list
}

// several names what is at one level: the openings where they are few.
func several(name string, refs []string) string {
	if all := strings.Join(refs, ", "); len(all) <= 6 {
		return name + " " + all
	}
	if len(refs) == 1 {
		return name
	}
	return strconv.Itoa(len(refs)) + " " + strings.ToLower(name) + "s"
}
