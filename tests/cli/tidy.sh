# tidy: what is written back, what is only named, and what is left alone.
. "$(dirname "$0")/lib.sh"

small_protocol >small.ward

cp small.ward tidy.ward
runs 0 "" -- tidy --check tidy.ward
is_true "nothing is named when all is tidy" test ! -s answer.out
runs 0 "" -- tidy tidy.ward
is_true "nothing is said when nothing changes" test ! -s answer.out

# Margins, line ends and a byte-order mark: all of it comes back, and the model is the same.
sed 's/^ *//; s/$/\r/' tidy.ward >flat.ward
"$stepward" dump flat.ward --stage model >before.txt
runs 1 "flat.ward" -- tidy --check tidy.ward flat.ward
says_not "tidy.ward"
is_true "--check changes nothing" grep -q "$(printf '\r')" flat.ward
runs 0 "" -- tidy --print flat.ward
is_true "--print prints the tidy form" cmp -s answer.out tidy.ward
is_true "--print changes nothing" grep -q "$(printf '\r')" flat.ward
"$stepward" tidy - <flat.ward >piped.ward
is_true "what comes through standard input is printed" cmp -s piped.ward tidy.ward
runs 0 "flat.ward is tidy now" -- tidy tidy.ward flat.ward
is_true "the file holds the tidy form" cmp -s flat.ward tidy.ward
"$stepward" dump flat.ward --stage model >after.txt
is_true "the model is the same" cmp -s before.txt after.txt

# Links stay links, and nobody else may read the file afterwards than before.
mkdir elsewhere
sed 's/^ *//' tidy.ward >elsewhere/real.ward
chmod 640 elsewhere/real.ward
ln -s elsewhere/real.ward link.ward
runs 0 "link.ward is tidy now" -- tidy link.ward
is_true "the link is still a link" test -L link.ward
is_true "the file behind the link is tidy" cmp -s elsewhere/real.ward tidy.ward
is_true "its mode is as it was" test "$(stat -c %a elsewhere/real.ward)" = 640
is_true "no temporary file is left" test "$(ls -A elsewhere)" = real.ward

# Errors of layout: nothing is touched, also when the others are tidied.
sed 's/^end phase$//; s/^ *//' tidy.ward >open.ward
cp open.ward open.before
sed 's/^ *//' tidy.ward >flat.ward
runs 1 "L301" "open.ward was left as it is" "flat.ward is tidy now" -- tidy open.ward flat.ward
is_true "a file with errors is left alone" cmp -s open.ward open.before
runs 1 "left as it is" -- tidy --check open.ward
runs 3 "there is no such file" -- tidy missing.ward
runs 2 "only one file" -- tidy --print tidy.ward flat.ward
runs 2 "only one file" -- tidy - flat.ward
runs 2 "" -- tidy --check --print tidy.ward
runs 2 "" -- tidy

# Names are no matter of layout.
sed 's/take off plastic apron/take  off plastic apro/; s/^ *//' tidy.ward >misspelt.ward
runs 0 "misspelt.ward is tidy now" -- tidy misspelt.ward
finished
