# What no protocol is: each gets a clear answer at the line and the right exit code, in a short time.
. "$(dirname "$0")/lib.sh"

small_protocol >small.ward

: >empty.ward
runs 1 "L111" "the file is empty" -- check empty.ward
head -c 30000 "$stepward" >binary.ward
runs 1 "L112" "not a plain text file" -- check binary.ward
printf 'stepward 1 protocol\ndocument\n  title "caf\351"\nend document\n' >latin.ward
runs 1 "L113" "latin.ward:3:" -- check latin.ward
printf 'stepward 1 protocol\n\000\n' >zero.ward
runs 1 "L114" "zero.ward:2:" -- check zero.ward
printf '\377\376s\000t\000' >wide.ward
runs 1 "L116" -- check wide.ward

sed 's/title "Apron off"/title "Apron off/' small.ward >quote.ward
runs 1 "L201" "quote.ward:3:" -- check quote.ward
sed '/^end phase/d' small.ward >open.ward
runs 1 "L301" -- check open.ward
{ cat small.ward; sed -n '/^item/,/^end item/p' small.ward; } >twice.ward
runs 1 "N107" "twice.ward:" -- check twice.ward

awk 'BEGIN { print "stepward 1 protocol"; print "phase \"deep\""; for (i = 0; i < 100000; i++) print "if hands are bare" }' >deep.ward
runs 1 "L305" -- check deep.ward
awk 'BEGIN { print "stepward 1 protocol"; for (i = 0; i < 700000; i++) print "this line says nothing at all" }' >large.ward
is_true "the large file has 20 megabytes" test "$(wc -c <large.ward)" -ge 20000000
runs 1 "large.ward:2:" "errors," -- check large.ward
awk 'BEGIN { printf "stepward 1 protocol\nact \""; for (i = 0; i < 2000000; i++) printf "0123456789"; print "\"" }' >long_line.ward
runs 1 "long_line.ward:" -- check long_line.ward

# Imports
with_import() {
  small_protocol | sed "s|^end document|end document\n\n$1|"
}
with_import 'use library "nowhere.ward"' >a.ward
runs 1 "N202" "a.ward:9:" "there is no such file" -- check a.ward
mkdir shelf
with_import 'use library "shelf"' >b.ward
runs 1 "N202" "it is a folder" -- check b.ward
with_import 'use library "../secret.ward"' >c.ward
runs 1 "N203" -- check c.ward
with_import 'use library "/etc/passwd"' >d.ward
runs 1 "N203" -- check d.ward
says_not "root:"
with_import 'use library "linked.ward"' >e.ward
ln -s /etc/passwd linked.ward
runs 1 "outside" -- check e.ward
says_not "root:"
for end in x y; do
  other=$([ $end = x ] && echo y || echo x)
  printf 'stepward 1 library\ndocument\n  title "%s"\n  number L-%s\n  version 1.0\n  status draft\nend document\nuse library "%s.ward"\n' $end $end $other >$end.ward
done
with_import 'use library "x.ward"' >f.ward
runs 1 "N204" -- check f.ward
mkfifo pipe.ward
runs 3 "not a plain file" -- check pipe.ward
if [ "$(id -u)" != 0 ]; then
  cp small.ward locked.ward
  chmod a-r locked.ward
  runs 3 "may not" -- check locked.ward
fi

# What editors and word processors leave in a text is simply accepted.
sed 's/$/\r/' small.ward >crlf.ward
{ printf '\357\273\277'; cat small.ward; } >bom.ward
sed 's/^  /\t/' small.ward >tabs.ward
sed 's/"\([^"]*\)"/“\1”/g' small.ward >curly.ward
sed 's/^  take off/  • take off/' small.ward >bullets.ward
for plain in crlf bom tabs curly bullets; do
  runs 0 "0 errors, 0 warnings" -- check $plain.ward
done
finished
