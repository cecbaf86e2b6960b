# Sourced by the other scripts: the one place where the build's settings stand.
# gocv v0.43.0 fits Debian 12's OpenCV 4.6.0 only with the tag gocv_specific_modules,
# which leaves out the modules that 4.6.0 does not have.
root=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
opencv_wanted=4.6.0
build_tags=gocv_specific_modules
export GOFLAGS="-buildvcs=false -tags=$build_tags"

# say prints a line of talk on standard error.
say() { printf '%s\n' "$*" >&2; }

# fail prints one line, then what to run, and ends the script with code 1.
fail() {
  say "error: $1"
  say "hint: $2"
  exit 1
}

# refuse ARGUMENT HINT ends a script that does not take the argument with code 2.
refuse() {
  say "error: $(basename "$0") does not take $1"
  say "hint: $2"
  exit 2
}

# takes_nothing TEXT ARGUMENT...: for scripts without arguments; --help prints the text.
takes_nothing() {
  local text=$1
  case ${2-} in
  -h | --help) printf '%s\n' "$text"; exit 0 ;;
  esac
  [ $# -eq 1 ] || refuse "$2" "scripts/$(basename "$0") --help"
}

# check_go ends with one line unless there is a go command that is new enough. The
# go command may fetch the Go that go.mod asks for: what counts is the one that builds.
check_go() {
  local wanted have oldest
  wanted=$(awk '$1 == "go" { print $2 }' "$root/go.mod")
  local hint="install Go $wanted or newer from https://go.dev/dl"
  command -v go >/dev/null || fail "Go is not installed" "$hint"
  have=$(cd "$root" && go env GOVERSION 2>/dev/null) || have=$(GOTOOLCHAIN=local go version | cut -d' ' -f3)
  have=${have##*go}
  oldest=$(printf '%s\n' "$wanted" "${have%%[!0-9.]*}" | sort -V | head -n 1)
  [ "$oldest" = "$wanted" ] || fail "Go $have is too old: go.mod asks for $wanted" "$hint"
}

# check_tools ends with one clear line where the build could only end in pages of errors.
check_tools() {
  check_go
  command -v g++ >/dev/null || fail "the C++ compiler g++ is missing" "run scripts/install"
  command -v pkg-config >/dev/null || fail "pkg-config is missing" "run scripts/install"
  local have
  have=$(pkg-config --modversion opencv4 2>/dev/null) ||
    fail "OpenCV's development files are missing (pkg-config finds no opencv4)" "run scripts/install"
  pkg-config --exists libheif ||
    fail "libheif's development files are missing (pkg-config finds no libheif)" "run scripts/install"
  [ "$have" = "$opencv_wanted" ] ||
    fail "OpenCV $have is installed, but the pinned gocv v0.43.0 is built against $opencv_wanted (Debian 12)" \
      "build on Debian 12, or set PKG_CONFIG_PATH to a folder with the opencv4.pc of $opencv_wanted"
}
