package report

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"github.com/gowebpki/jcs"
)

// DigestAlgorithm names how Integrity.Digest is made.
const DigestAlgorithm = "sha256/RFC 8785"

// integrityKey is the one key that the digest leaves out.
const integrityKey = "integrity"

// Canonical is the report without its integrity, unknown keys included, as
// canonical JSON (RFC 8785): the bytes that Digest is over. It fails on numbers
// that are not finite.
func (r *Report) Canonical() ([]byte, error) {
	doc, err := r.document()
	if err != nil {
		return nil, err
	}
	return canonical(doc.without(integrityKey))
}

// canonical writes a document by RFC 8785.
func canonical(doc *object) ([]byte, error) {
	var plain bytes.Buffer
	if err := doc.write(&plain); err != nil {
		return nil, err
	}
	out, err := jcs.Transform(plain.Bytes())
	if err != nil {
		return nil, fmt.Errorf("bringing JSON into its canonical form: %w", err)
	}
	return out, nil
}

// Digest is the SHA-256 of Canonical, hexadecimal, as the report stands now.
func (r *Report) Digest() (string, error) {
	text, err := r.Canonical()
	if err != nil {
		return "", err
	}
	return digestOf(text), nil
}

func digestOf(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:])
}

// DigestOK says whether the report's integrity holds for the report as it
// stands now. It is false without one, or with another algorithm. A true one
// shows that nothing was changed by accident; it is no signature, since whoever
// changes a report can make the digest anew.
func (r *Report) DigestOK() bool {
	if r.Integrity == nil || r.Integrity.Algorithm != DigestAlgorithm {
		return false
	}
	digest, err := r.Digest()
	return err == nil && digest == r.Integrity.Digest
}
