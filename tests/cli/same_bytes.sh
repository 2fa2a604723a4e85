# The same source, program and day: the same bytes, whatever the order of work on several cores.
. "$(dirname "$0")/lib.sh"

example=$tree/examples/aldermoss-entry.ward
without_time() { sed 's/, [0-9.]* s$//' "$1"; }
for run in first second; do
  "$stepward" check "$example" --today 2030-11-01 >$run.txt
  without_time $run.txt >$run.plain
  "$stepward" check "$example" --today 2030-11-01 --format json >$run.json
  "$stepward" graph "$example" --as json -o $run.graph.json
  "$stepward" graph "$example" --as graphml -o $run.graphml
  "$stepward" dump "$example" --stage effects >$run.effects
done
for kind in plain json graph.json graphml effects; do
  is_true "$kind is not empty" test -s first.$kind
  is_true "$kind is the same twice" cmp first.$kind second.$kind
done
# A file that already holds the same bytes is left alone, its time included.
touch -d 2030-01-01 first.graphml
"$stepward" graph "$example" --as graphml -o first.graphml
is_true "the file kept its time" test "$(date -r first.graphml +%Y)" = 2030
finished
