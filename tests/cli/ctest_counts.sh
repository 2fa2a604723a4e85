# Every case that a test program holds is a test of ctest: a name with a semicolon, for one, would pass without running.
# Called with the build folder.
set -u
build=$1
wrong=0
programs=0
ctest --test-dir "$build" -N >"${TMPDIR:-/tmp}/ctest_list.$$" || exit 1
list=${TMPDIR:-/tmp}/ctest_list.$$
trap 'rm -f "$list"' EXIT
for program in "$build"/bin/*_tests "$build"/bin/fuzz_replay; do
  [ -x "$program" ] || continue
  programs=$((programs + 1))
  name=$(basename "$program")
  held=$("$program" --count --no-skip 2>/dev/null | sed -n 's/.*: *\([0-9][0-9]*\)$/\1/p' | tail -n 1)
  listed=$(grep -c "#[0-9]*: \(sanitized \)\{0,1\}$name:" "$list")
  if [ "${held:-0}" != "$listed" ]; then
    echo "NOT AS EXPECTED: $name holds $held cases, ctest lists $listed"
    wrong=1
  fi
done
echo "$programs programs compared"
[ "$programs" -ge 2 ] && [ $wrong = 0 ]
