//go:build !gocv_specific_modules

// Without the tag gocv is compiled whole, which ends in pages of C++ errors
// against OpenCV 4.6.0. This second package name in one folder makes the go
// command stop before it compiles anything, with one line that says what to do.
package build_tag_missing_set_GOFLAGS_to_tags_gocv_specific_modules_or_run_scripts_build
