# Shared by examples/run and tests/run, which source it: what is installed, and how a build directory is made.
# POSIX sh. `root` must hold the top of the tree, `self` the command's name for messages.
# shellcheck shell=sh disable=SC2034,SC2154

LC_ALL=C.UTF-8
DEBIAN_FRONTEND=noninteractive
export LC_ALL DEBIAN_FRONTEND

# What the program is built from, and the fonts that its papers are set in.
build_packages="g++ cmake ninja-build pkgconf tao-pegtl-dev libfmt-dev libpugixml-dev nlohmann-json3-dev libcli11-dev
libutf8proc-dev libgmp-dev libcairo2-dev libpango1.0-dev libqrencode-dev libqpdf-dev libgraphviz-dev
fonts-noto-core"

stop() {
  echo "$self: $*" >&2
  exit 1
}

say() { echo "$self: $*"; }

is_installed() {
  [ "$(dpkg-query -W -f='${db:Status-Status}' "$1" 2>/dev/null)" = installed ]
}

# install_missing PACKAGE…: installs with apt what is not there yet, and says so before it does.
install_missing() {
  for tool in dpkg-query apt-get; do
    command -v $tool >/dev/null 2>&1 || stop "this needs Debian 12 (there is no $tool here); install by hand: $*"
  done
  missing=
  for package in "$@"; do
    is_installed "$package" || missing="$missing $package"
  done
  if [ -z "$missing" ]; then
    say "everything that is needed is installed"
    return
  fi
  [ "$(id -u)" = 0 ] || stop "these packages are missing and only root can install them:$missing"
  say "about to install with apt:$missing"
  log=$(mktemp)
  apt-get update >"$log" 2>&1 || { tail -n 20 "$log" >&2; stop "apt-get update failed; see above"; }
  # shellcheck disable=SC2086
  apt-get install -y --no-install-recommends $missing >"$log" 2>&1 || { tail -n 20 "$log" >&2; stop "apt-get install failed; see above"; }
  rm -f "$log"
}

# build PRESET TARGETS [CMAKE-OPTION…]: configures and builds quietly; TARGETS is one word list.
build() {
  preset=$1
  targets=$2
  shift 2
  folder=$root/build/$preset
  home=$(sed -n 's/^CMAKE_HOME_DIRECTORY:INTERNAL=//p' "$folder/CMakeCache.txt" 2>/dev/null || true)
  [ -z "$home" ] || [ "$home" = "$root" ] || stop "$folder was made for $home; remove it and try again"
  mkdir -p "$folder" || stop "cannot make $folder"
  say "building $preset (what is said meanwhile is in build/$preset/build.log)"
  log=$folder/build.log
  (cd "$root" && cmake --preset "$preset" "$@") >"$log" 2>&1 || { tail -n 30 "$log" >&2; stop "cannot configure $preset; see above"; }
  # shellcheck disable=SC2086
  cmake --build "$folder" --target $targets >>"$log" 2>&1 || { tail -n 60 "$log" >&2; stop "cannot build $preset; see above"; }
}
