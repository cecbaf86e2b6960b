package report

// A report that was read and is written again keeps the keys that this program
// does not know. They are taken from the document as it was read, and the
// fields of Report are laid over it: the fields win, what was taken out of a
// list is gone, and what moved to another place takes its keys along.

// identity says which entry of a list, or which mark, an object is about.
// Everything else is matched by its place.
var identity = map[string]func(*object) string{
	"stations":   func(o *object) string { return textOf(o.get("station")) },
	"burn":       markIdentity,
	"pointer":    markIdentity,
	"others":     markIdentity,
	"unassigned": photoIdentity,
	"warnings":   func(o *object) string { return textOf(o.get("code")) },
	"budget":     func(o *object) string { return textOf(o.get("source")) },
	"rings_seen": func(o *object) string { return textOf(o.get("diameter_mm")) },
}

// markIdentity is that of a measurement: which mark in which photo.
func markIdentity(o *object) string { return textOf(o.get("mark")) + " " + photoIdentity(o) }

// photoIdentity is the photo's hash, or its name when it has none.
func photoIdentity(o *object) string {
	photo, _ := o.get("photo").(*object)
	if hash := textOf(photo.get("sha256")); hash != "" {
		return hash
	}
	return "file " + textOf(photo.get("file"))
}

// keeper lays a new document over an old one.
type keeper struct {
	marks map[string]*object // the old document's measurements by identity
}

// keep is new with the keys of old that new does not have, at every level. Old
// is left as it is. Every key that this program knows is in new.
func keep(old, new *object) *object {
	if old == nil {
		return new
	}
	k := keeper{map[string]*object{}}
	k.collect(old)
	return k.object(old, new)
}

// collect finds the measurements, wherever they stand.
func (k keeper) collect(old *object) {
	stations, _ := old.get("stations").([]any)
	for _, s := range stations {
		station, _ := s.(*object)
		others, _ := station.get("others").([]any)
		for _, m := range append([]any{station.get("burn"), station.get("pointer")}, others...) {
			if mark, ok := m.(*object); ok {
				k.marks[markIdentity(mark)] = mark
			}
		}
	}
}

func (k keeper) object(old, new *object) *object {
	out := newObject()
	for _, key := range new.keys {
		out.set(key, k.value(key, old.get(key), new.values[key]))
	}
	if old == nil {
		return out
	}
	for _, key := range old.keys {
		if _, known := new.values[key]; !known {
			out.set(key, old.values[key])
		}
	}
	return out
}

// value is what stands at the key. Numbers, texts and lists of them are new's.
func (k keeper) value(key string, old, new any) any {
	switch new := new.(type) {
	case *object:
		before, _ := old.(*object)
		if which := identity[key]; which != nil && (before == nil || which(before) != which(new)) {
			before = k.marks[which(new)]
		}
		return k.object(before, new)
	case []any:
		if which := identity[key]; which != nil {
			before, _ := old.([]any)
			return k.list(which, before, new)
		}
	}
	return new
}

// list matches entries by identity, those with the same one in order. A
// measurement that was not in this list may have come from elsewhere.
func (k keeper) list(which func(*object) string, old, new []any) []any {
	before := map[string][]*object{}
	for _, v := range old {
		if entry, ok := v.(*object); ok {
			id := which(entry)
			before[id] = append(before[id], entry)
		}
	}
	out := make([]any, len(new))
	for i, v := range new {
		entry := v.(*object) // lists with an identity hold objects
		id := which(entry)
		var match *object
		if queue := before[id]; len(queue) > 0 {
			match, before[id] = queue[0], queue[1:]
		} else {
			match = k.marks[id] // nil but for measurements
		}
		out[i] = k.object(match, entry)
	}
	return out
}
