package schedule

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"hodman/service/finding"
	"hodman/service/measure"
	"hodman/service/product"
	"hodman/service/rulebook"
)

// Check finds every mistake that keeps the schedule from being counted, in
// document order by part: head, wall types, walls, corners, lifts, stock. Codes
// required, range, choice, pattern, length and items are what the document's own
// description says too; the others need the whole of it to be seen.
func (s *Schedule) Check(cat *product.Catalogue) finding.Faults {
	c := &checker{cat: cat, book: rulebook.Find(s.Rulebook)}
	if c.unknown = c.book == nil; c.unknown {
		c.book = rulebook.GB() // so that the rest can be told too
	}
	c.text("", "reference", s.Reference, MaxReference)
	c.rulebook(s.Rulebook)
	if c.optionalChoice("", "setting_out", s.SettingOut, "as_given", "best") {
		c.settingOut = s.SettingOut != ""
	}
	c.optionalChoice("", "movement_joints", s.MovementJoints, "as_given", "placed")
	c.optionalChoice("", "cut_reuse", s.CutReuse, "best", "none")
	c.mortarSupply(s)
	c.length("", "clear_allowance_mm", s.ClearAllowance, allowance)
	if s.DPCLevel != nil {
		c.length("", "dpc_mm", *s.DPCLevel, level)
	}
	types := c.wallTypes(s.WallTypes)
	c.walls(s, types)
	c.lifts(s)
	c.stock(s.Stock)
	c.allowances(&s.Allowances)
	return c.faults
}

// checker gathers faults. cat is where products are looked up, book the schedule's own.
type checker struct {
	cat  *product.Catalogue
	book *rulebook.Book
	// unknown says that the schedule's book is not known and another stands in.
	unknown bool
	// settingOut says that walls are set out in other ways, too.
	settingOut bool
	faults     finding.Faults
}

func (c *checker) add(prefix, name, code, detail string) {
	c.faults.Add(prefix+"/"+name, code, detail)
}

func (c *checker) rulebook(key string) {
	if !c.key("", "rulebook", key) {
		return
	}
	if rulebook.Find(key) == nil {
		c.add("", "rulebook", "unknown_ref", "there is no rulebook "+strconv.Quote(key)+"; use "+rulebook.Keys())
	}
}

// text checks a free text that has to be there.
func (c *checker) text(prefix, name, s string, most int) bool {
	switch n := utf8.RuneCountInString(s); {
	case n == 0:
		c.add(prefix, name, "required", "is missing or empty; give 1 to "+strconv.Itoa(most)+" characters")
		return false
	case n > most:
		c.add(prefix, name, "length", "has "+strconv.Itoa(n)+" characters; give at most "+strconv.Itoa(most))
		return false
	}
	return true
}

// key checks a name that other parts of the document refer to.
func (c *checker) key(prefix, name, s string) bool {
	if !c.text(prefix, name, s, MaxKey) {
		return false
	}
	if !IsKey(s) {
		c.add(prefix, name, "pattern", "may hold letters, digits, spaces and ._/@:+- only, and begins with a letter or digit")
		return false
	}
	return true
}

// IsKey says whether s may be a key, a ref or a product code.
func IsKey(s string) bool {
	for i := range len(s) {
		b := s[i]
		alnum := 'a' <= b && b <= 'z' || 'A' <= b && b <= 'Z' || '0' <= b && b <= '9'
		if !alnum && (i == 0 || strings.IndexByte(" ._/@:+-", b) < 0) {
			return false
		}
	}
	return s != ""
}

// length checks that a length is given and in range.
func (c *checker) length(prefix, name string, l measure.Length, in span) bool {
	switch {
	case l == Missing:
		c.add(prefix, name, "required", "is missing; give a length from "+in.least.String()+" to "+in.most.String()+" mm")
		return false
	case !in.holds(l):
		c.add(prefix, name, "range", "is "+l.String()+" mm; give a length from "+in.least.String()+" to "+in.most.String()+" mm")
		return false
	}
	return true
}

// choice checks one of a few words, which has to be there.
func (c *checker) choice(prefix, name, s string, words ...string) bool {
	for _, w := range words {
		if s == w {
			return true
		}
	}
	if s == "" {
		c.add(prefix, name, "required", "is missing; use one of "+strings.Join(words, ", "))
	} else {
		c.add(prefix, name, "choice", "is "+strconv.Quote(s)+"; use one of "+strings.Join(words, ", "))
	}
	return false
}

// optionalChoice is choice where leaving the member out is a choice too.
func (c *checker) optionalChoice(prefix, name, s string, words ...string) bool {
	return s == "" || c.choice(prefix, name, s, words...)
}

// count checks how many of a thing there are.
func (c *checker) count(prefix, name string, n, least, most int) bool {
	if n < least || n > most {
		c.add(prefix, name, "items", "holds "+strconv.Itoa(n)+"; give "+strconv.Itoa(least)+" to "+strconv.Itoa(most))
		return false
	}
	return true
}

func (c *checker) lifts(s *Schedule) {
	l := s.Lifts
	if l == nil {
		return
	}
	if (l.Height == nil) == (l.Tops == nil) {
		c.add("", "lifts", "inconsistent", "give either tops_mm or height_mm")
	}
	if l.Height != nil {
		c.length("/lifts", "height_mm", *l.Height, liftHeight)
	}
	if l.Tops == nil || !c.count("/lifts", "tops_mm", len(l.Tops), 1, MaxLifts) {
		return
	}
	for i, top := range l.Tops {
		at := strconv.Itoa(i)
		if c.length("/lifts/tops_mm", at, top, level) && i > 0 && top <= l.Tops[i-1] {
			c.add("/lifts/tops_mm", at, "not_rising", "is "+top.String()+" mm, not above the lift below at "+l.Tops[i-1].String()+" mm; give tops from the lowest up")
		}
	}
}

func (c *checker) stock(stock []Stock) {
	if len(stock) > MaxStock {
		c.count("", "stock", len(stock), 0, MaxStock)
		return
	}
	seen := make(map[string]bool, len(stock))
	for i, line := range stock {
		prefix := "/stock/" + strconv.Itoa(i)
		if line.Quantity < 0 || line.Quantity > MaxQuantity {
			c.add(prefix, "quantity", "range", "is "+strconv.Itoa(line.Quantity)+"; give 0 to "+strconv.Itoa(MaxQuantity))
		}
		if !c.key(prefix, "product", line.Product) {
			continue
		}
		switch p := c.cat.Find(line.Product); {
		case p == nil:
			c.add(prefix, "product", "unknown_ref", "there is no product "+strconv.Quote(line.Product)+" in catalogue "+c.cat.ID())
		case p.Kind != product.Lintel:
			c.add(prefix, "product", "not_supported", "is a "+string(p.Kind)+"; stock is looked at for lintels only so far")
		case seen[line.Product]:
			c.add(prefix, "product", "duplicate", "stands twice; give one line a product")
		}
		seen[line.Product] = true
	}
}

func (c *checker) allowances(a *Allowances) {
	for _, each := range []struct {
		name  string
		value *measure.Ratio
	}{
		{"brick", a.Brick}, {"block", a.Block}, {"coursing_unit", a.CoursingUnit}, {"mortar", a.Mortar},
		{"wall_tie", a.WallTie}, {"dpc", a.DPC}, {"insulation", a.Insulation},
	} {
		if each.value != nil && (*each.value < 0 || *each.value > measure.One) {
			c.add("/allowances", each.name, "range", "is "+each.value.String()+"; give a part from 0 to 1, such as 0.05 for 5 in the hundred")
		}
	}
}
