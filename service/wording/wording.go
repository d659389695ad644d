// Package wording puts sentences together out of words and figures, many of them for
// few allocations: an answer has hundreds of short sums.
package wording

import (
	"strconv"
	"strings"

	"hodman/service/measure"
)

// Writer makes sentences. Those it has made share blocks of memory and stay as they are
// while it makes more. The zero Writer is ready; it may not be copied once it is used.
type Writer struct {
	line  []byte // the sentence under way
	block strings.Builder
	size  int // of the block
}

// The first block is small, for answers of few words; each next is twice as large, up to the most.
const (
	firstBlock = 1 << 10
	mostBlock  = 4 << 10
)

// Say is one sentence: string, int, int64 and the quantities of [measure], one after
// another, as their String has it. It panics on anything else, which is a mistake of ours.
func (w *Writer) Say(parts ...any) string {
	w.Add(parts...)
	return w.End()
}

// Add goes on with the sentence under way.
func (w *Writer) Add(parts ...any) {
	b := w.line
	for _, part := range parts {
		switch p := part.(type) {
		case string:
			b = append(b, p...)
		case int:
			b = strconv.AppendInt(b, int64(p), 10)
		case int64:
			b = strconv.AppendInt(b, p, 10)
		case measure.Length:
			b = p.Append(b)
		case measure.Quantity:
			b = p.Append(b)
		case measure.Mass:
			b = p.Append(b)
		case measure.Ratio:
			b = p.Append(b)
		default:
			panic("wording: no words for such a part")
		}
	}
	w.line = b
}

// End is the sentence that was under way.
func (w *Writer) End() string {
	if w.block.Cap()-w.block.Len() < len(w.line) {
		// A new block leaves the last to the sentences cut out of it.
		w.size = min(max(2*w.size, firstBlock), mostBlock)
		w.block = strings.Builder{}
		w.block.Grow(max(w.size, len(w.line)))
	}
	from := w.block.Len()
	w.block.Write(w.line)
	w.line = w.line[:0]
	return w.block.String()[from:]
}
