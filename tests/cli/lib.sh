# Sourced by every test of this folder: sh TEST PROGRAM SOURCE-TREE.
# A test works in a folder of its own, which goes away at its end, and counts what it expected and did not get.
# shellcheck shell=sh disable=SC2034

set -u
LC_ALL=C.UTF-8
export LC_ALL
unset NO_COLOR
stepward=$1
tree=$2
failures=0
asked=0
folder=$(mktemp -d) || exit 1
trap 'remove_small_disk; chmod -R u+w "$folder" 2>/dev/null; rm -rf "$folder"' EXIT
cd "$folder" || exit 1

# small_disk SIZE: mounts a file system of that size at ./small_disk; false where nothing may be mounted.
small_disk() {
  mkdir small_disk
  mount -t tmpfs -o "size=$1" tmpfs small_disk 2>/dev/null || { echo "nothing can be mounted here, so no small disk is filled"; return 1; }
}

# umount wants to read /proc; where there is none, the system call is asked for by itself.
remove_small_disk() {
  [ -d "$folder/small_disk" ] || return 0
  umount "$folder/small_disk" 2>/dev/null ||
    /usr/bin/python3 -c 'import ctypes, os, sys; ctypes.CDLL(None).umount2(os.fsencode(sys.argv[1]), 0)' "$folder/small_disk"
}

fail() {
  failures=$((failures + 1))
  echo "NOT AS EXPECTED: $*"
}

# runs CODE WORDS…: ARGUMENTS of the program follow after `--`; its exit code is CODE and its answer holds all WORDS.
runs() {
  asked=$((asked + 1))
  code=$1
  shift
  : >words
  while [ "$1" != -- ]; do
    printf '%s\n' "$1" >>words
    shift
  done
  shift
  "$stepward" "$@" >answer.out 2>answer.err
  got=$?
  [ "$got" = "$code" ] || fail "stepward $*: exit code $got, not $code; it says: $(head -c 600 answer.out answer.err)"
  while IFS= read -r words; do
    [ -z "$words" ] || grep -qF -- "$words" answer.out answer.err || fail "stepward $*: does not say \"$words\"; it says: $(head -c 600 answer.out answer.err)"
  done <words
}

# says_not WORDS: nor does the last answer hold these.
says_not() {
  asked=$((asked + 1))
  ! grep -qiF -- "$1" answer.out answer.err || fail "says \"$1\": $(grep -hiF -m1 -- "$1" answer.out answer.err)"
}

is_true() {
  asked=$((asked + 1))
  what=$1
  shift
  "$@" || fail "$what"
}

# A small protocol that needs no import and has one variant.
small_protocol() {
  cat <<'WARD'
stepward 1 protocol
document
  title "Apron off"
  number T-1
  version 1.0
  status draft
end document
zone bay
  risk low
end zone
role wearer
  may enter bay
end role
body site bare hands is skin, these are the hands
body site torso is skin
kind apron
item plastic apron
  kind apron
  worn on torso
  surfaces front
  usually taken off using pull
end item
technique pull
  takes off any apron
  handles front of it
  words "TAKE OFF [item]."
end technique
people
  wearer begins in bay wearing plastic apron
  wearer acts unless a line names someone else
end people
endings
  out is normal
    wearer is in bay
end endings
phase "Off"
  take off plastic apron
  finish as out
end phase
WARD
}

finished() {
  echo "$asked expectations, $failures not met"
  [ "$failures" = 0 ]
}
