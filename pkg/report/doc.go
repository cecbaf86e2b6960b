// Package report holds what the programs hand to each other and to people's scripts:
// the measurement of one mark in one photo, and the report of a whole round of
// test fires. It reads and writes both, and judges a set.
//
// A planner or a service system imports it like this:
//
//	r, err := report.ReadFile("report.json") // a *ReadError says what to do
//	for _, s := range r.Stations {
//		if s.Burn != nil && s.Burn.Offset != nil { ... }
//	}
//
// # Units and frames
//
// Lengths are in millimetres, angles in degrees, times as in RFC 3339. Right
// and up are as one sees the target facing it, with its index mark at the top;
// the origin is the rings' common centre. Units matter only in tables for
// people.
//
// # The formats
//
// SchemaReport and SchemaMeasurements name the formats; Schemas holds them as
// JSON Schema (draft 2020-12), and every file is checked by it when it is
// read and when it is written. A file with another major number is refused. A
// key that is not known is no fault: Read keeps it, and Encode and WriteFile
// write it again, with its number's digits as they were, so that a report may
// pass through an older program without loss. When a field is changed, the
// field wins; what is taken out of a list is gone with its keys.
//
// The reports that people write by programs of their own need all the keys of
// the schema but integrity; null stands where there is nothing, and lists are
// empty rather than null.
//
// # Integrity
//
// WriteFile puts a SHA-256 over the canonical form (RFC 8785) of everything
// else into the file, and DigestOK checks it. It shows that a file was cut,
// mixed up or edited in passing. It is no signature: whoever changes a report
// can make the digest anew.
//
// # Not for safety
//
// A verdict of "inside" is about where the beam meets the head, not about
// whether the machine may be run.
package report
