// Package evidence turns a report into what people keep: a sheet for the
// customer and the file, as HTML and as PDF.
//
// The sheet is put into words once (wording); the two writers only lay it out,
// so that both say the same. Drawings are shapes in a frame of their own: mm on
// the target, x right, y DOWN, origin at the rings' centre.
//
// Reports come from files that anyone may have edited. Every text in them is
// taken for hostile: HTML is escaped by its context, and a PDF shows what its
// font has.
package evidence
