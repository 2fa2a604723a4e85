# The tour of README.md, typed as it stands there, in a fresh copy of what it needs.
. "$(dirname "$0")/lib.sh"

mkdir -p build/release/bin
ln -s "$stepward" build/release/bin/stepward
cp -r "$tree/examples" examples
awk '/^## A tour/ { tour = 1 } /^## Limits/ { tour = 0 } /^```$/ { code = 0 } tour && code { print } /^```sh$/ { code = 1 }' \
  "$tree/README.md" >tour
is_true "the tour has commands" test "$(grep -c '^stepward' tour)" -ge 5
sh tour >answer.out 2>answer.err
is_true "the last command works" test $? = 0
is_true "nothing is said on standard error" test ! -s answer.err
for words in "error P401 bay.ward" "1 error, 3 warnings" "0 errors, 3 warnings" "error R101 forgotten.ward" "mend 1" "disinfect hands with strong chlorine" "cards/AMH-IP-012" "checked against" "ours/respirator-exit.ward" "mix 1 part with 9 parts" "rule LE01" "current: it is the wearer’s card"; do
  is_true "the tour shows \"$words\"" grep -qF "$words" answer.out
done
is_true "the chart and the process are there" test -s build/tour/exit.svg -a -s build/tour/exit.bpmn

# The message that the page shows is the message that the program writes.
awk '/^```$/ && shown { exit } /^error P401/ { shown = 1 } shown' "$tree/README.md" >shown
sed -n '/^error P401/,/^$/p' answer.out | sed '/^$/d' | head -n "$(wc -l <shown)" >written
is_true "README.md shows the message as it is written: $(diff shown written)" cmp -s shown written
finished
