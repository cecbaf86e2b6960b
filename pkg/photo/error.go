package photo

import "fmt"

// Code says in one word why a photo is unreadable.
type Code string

// The codes of unreadable photos.
const (
	NotFound   Code = "not-found"    // missing, or it cannot be opened
	Empty      Code = "empty"        // no bytes
	NotAnImage Code = "not-an-image" // a folder, another kind of file, or a kind of picture that is not decoded
	Truncated  Code = "truncated"    // cut off or damaged
	TooLarge   Code = "too-large"    // beyond Limits
)

// Entry is one code as it is explained to users.
type Entry struct {
	Code    Code
	Meaning string // what is wrong
	Remedy  string // what to do next
}

// Codes lists every code with what it means and what to do. The caller owns the
// slice.
func Codes() []Entry {
	return []Entry{
		{NotFound, "there is no such file, or it cannot be opened", "check its name and who may read it"},
		{Empty, "the file holds nothing", "copy the photo from the phone again"},
		{NotAnImage, "a folder, a film, or a kind of picture that is not read", "save the photo as an ordinary JPEG"},
		{Truncated, "the photo is cut off or damaged", "copy it from the phone again"},
		{TooLarge, "more pixels or bytes than are read", "set the camera to fewer megapixels: 12 are plenty"},
	}
}

// Error is why a photo is unreadable. Every error of Read is one.
type Error struct {
	Code Code
	Text string // one sentence without the file's name: what is wrong, then what to do next
	Err  error  // the cause, nil when there is none
}

// Error returns the sentence. The file's name is left to the caller, who knows
// how it was given.
func (e *Error) Error() string { return e.Text }

// Unwrap returns the cause, so that errors.Is finds fs.ErrNotExist.
func (e *Error) Unwrap() error { return e.Err }

func refuse(code Code, cause error, format string, args ...any) *Error {
	return &Error{Code: code, Text: fmt.Sprintf(format, args...), Err: cause}
}

func cutOff(what string) *Error {
	return refuse(Truncated, nil, "the photo is cut off or damaged (%s): copy it from the phone again", what)
}

func undecodable(what string) *Error {
	return refuse(NotAnImage, nil, "%s is not a kind of picture that is read here: save the photo as an ordinary JPEG", what)
}
