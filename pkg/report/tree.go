package report

import (
	"bytes"
	"encoding/json"
	"strconv"
)

// object is a JSON object that keeps the order of its keys, so that a report
// reads from top to bottom as its format is described. Other values are as
// encoding/json decodes them, numbers as json.Number: their text is kept.
type object struct {
	keys   []string
	values map[string]any
}

// get is the value at the key, nil when there is none.
func (o *object) get(key string) any {
	if o == nil {
		return nil
	}
	return o.values[key]
}

// set puts the value at the key, a new key at the end.
func (o *object) set(key string, value any) {
	if _, old := o.values[key]; !old {
		o.keys = append(o.keys, key)
	}
	o.values[key] = value
}

// without is a copy that has not this key.
func (o *object) without(key string) *object {
	out := newObject()
	for _, k := range o.keys {
		if k != key {
			out.set(k, o.values[k])
		}
	}
	return out
}

func newObject() *object { return &object{values: map[string]any{}} }

// parseTree reads one JSON value. It wants text that json.Valid has passed,
// which also bounds how deep it goes.
func parseTree(data []byte) (any, error) {
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	return nextValue(d)
}

func nextValue(d *json.Decoder) (any, error) {
	token, err := d.Token()
	if err != nil {
		return nil, err
	}
	switch token {
	case json.Delim('{'):
		return nextObject(d)
	case json.Delim('['):
		return nextList(d)
	}
	return token, nil
}

func nextObject(d *json.Decoder) (any, error) {
	out := newObject()
	for d.More() {
		key, err := d.Token()
		if err != nil {
			return nil, err
		}
		value, err := nextValue(d)
		if err != nil {
			return nil, err
		}
		out.set(key.(string), value) // the decoder gives no other key
	}
	_, err := d.Token()
	return out, err
}

func nextList(d *json.Decoder) (any, error) {
	out := []any{}
	for d.More() {
		value, err := nextValue(d)
		if err != nil {
			return nil, err
		}
		out = append(out, value)
	}
	_, err := d.Token()
	return out, err
}

// MarshalJSON writes the keys in their order.
func (o *object) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	err := o.write(&b)
	return b.Bytes(), err
}

// write goes down by itself: encoding/json would check and copy every level's
// text once more for each level above it.
func (o *object) write(b *bytes.Buffer) error {
	b.WriteByte('{')
	for i, key := range o.keys {
		if i > 0 {
			b.WriteByte(',')
		}
		if err := writeValue(b, key); err != nil {
			return err
		}
		b.WriteByte(':')
		if err := writeValue(b, o.values[key]); err != nil {
			return err
		}
	}
	b.WriteByte('}')
	return nil
}

func writeValue(b *bytes.Buffer, v any) error {
	switch v := v.(type) {
	case *object:
		return v.write(b)
	case []any:
		b.WriteByte('[')
		for i, inner := range v {
			if i > 0 {
				b.WriteByte(',')
			}
			if err := writeValue(b, inner); err != nil {
				return err
			}
		}
		b.WriteByte(']')
		return nil
	}
	if err := encoder(b, "").Encode(v); err != nil {
		return err
	}
	b.Truncate(b.Len() - 1) // the encoder's line feed
	return nil
}

// textOf is the text of a string or number, such that equal ones have equal text.
func textOf(v any) string {
	switch v := v.(type) {
	case string:
		return v
	case json.Number:
		if f, err := v.Float64(); err == nil {
			return strconv.FormatFloat(f, 'g', -1, 64)
		}
		return v.String()
	}
	return ""
}
