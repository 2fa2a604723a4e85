# print: what is written, under which names, and when nothing is.
. "$(dirname "$0")/lib.sh"

example=$tree/examples/aldermoss-entry.ward
one="gown, boot covers"
day="--today 2030-11-01"
# shellcheck disable=SC2086
{
  runs 0 "card-a5.pdf" "script-a5.pdf" "checked against" -- print "$example" --to out/cards --paper A5 --only "$one" $day
  says_not " safe"
  card=out/cards/AMH-IP-011-v2.0-gown-face-shield-boot-covers-card-a5.pdf
  is_true "the card is there" test -s $card
  cp $card first.pdf
  rm $card
  runs 0 "" -- print "$example" --to out/cards --paper A5 --only "$one" --what card $day
  is_true "two runs give the same bytes" cmp $card first.pdf
  runs 0 "" -- print "$example" --to out/letter --paper letter --what card --only "$one" $day
  runs 2 "" -- print "$example" --to out --paper A6 --only "$one" $day
  runs 2 'no paper "placard"' "card, script, poster, breach, badge, kit, competency, dilution, recall, sign-off" -- print "$example" --to out --what card,placard --only "$one" $day
  is_true "nothing was made for the others" test ! -e out/AMH-IP-011-v2.0-gown-face-shield-boot-covers-card-a4.pdf

  # Without --what: every paper, and the sign-off page lists the check words that each of the others carries.
  runs 0 "breach-a4.pdf" "kit-a4.pdf" "competency-a4.pdf" "AMH-IP-011-v2.0-dilution-a4.pdf" "AMH-IP-011-v2.0-sign-off-a4.pdf" -- print "$example" --to all --only "$one" $day
  is_true "nine papers" test "$(ls all | wc -l)" = 9
  is_true "each on its own size" sh -c 'ls all/*-poster-a3.pdf all/*-badge-id-1.pdf all/*-card-a4.pdf' >/dev/null
  page=$(pdftotext -raw all/*-sign-off-a4.pdf - | tr -d '[:space:]')
  for paper in all/*.pdf; do
    case $paper in *sign-off*) continue ;; esac
    # shellcheck disable=SC2016
    is_true "the check words of $paper are on the sign-off page" sh -c 'case $1 in *"$2"*) ;; *) exit 1 ;; esac' - "$page" \
      "$(pdfinfo "$paper" | sed -n 's/^Keywords: *//p' | tr -d '[:space:]')"
  done
  runs 0 "kit-letter.pdf" -- print "$example" --to out/ruled --paper letter --what kit --only "$one" $day
  is_true "only what was asked for" test "$(ls out/ruled)" = AMH-IP-011-v2.0-gown-face-shield-boot-covers-kit-letter.pdf
  cp out/ruled/*.pdf first.pdf
  runs 0 "" -- print "$example" --to out/ruled --paper letter --what kit --only "$one" $day
  is_true "a kit list gives the same bytes twice" cmp out/ruled/*.pdf first.pdf
}

# A size that a paper is not printed on: refused by name, left out where all were asked for, and the sizes that would do are told.
# shellcheck disable=SC2086
{
  runs 2 "poster: it is printed on A3 or Tabloid, not on A4" -- print "$example" --to sized --what card,poster --paper A4 --only "$one" $day
  runs 2 "card: it is printed on A5, A4, Letter, A3 or Tabloid, not on ID-1" -- print "$example" --to sized --what card --paper id-1 --only "$one" $day
  is_true "nothing was made" test ! -e sized
  runs 0 "no poster: it is printed on A3 or Tabloid, not on Letter" "no badge: it is printed on ID-1, not on Letter" -- print "$example" --to sized --paper letter --only "$one" $day
  is_true "the other seven" test "$(ls sized | wc -l)" = 7

  # What is signed are the words of all papers, not sheets of one size: poster and badge card are listed where they are not printed.
  words_of() { pdfinfo "$1" | sed -n 's/^Keywords: *//p'; }
  # shellcheck disable=SC2016
  is_true "the sign-off page has the same check words on every size" sh -c 'test -n "$1" && test "$1" = "$2"' - "$(words_of all/*-sign-off-a4.pdf)" "$(words_of sized/*-sign-off-letter.pdf)"
  runs 0 "sign-off-a4.pdf" -- print "$example" --to signed --what sign-off --only "$one" $day
  # shellcheck disable=SC2016
  is_true "and when it is printed alone" sh -c 'test "$1" = "$2"' - "$(words_of all/*-sign-off-a4.pdf)" "$(words_of signed/*-sign-off-a4.pdf)"

  # Several faces on a sheet: the page has the size of the sheet, and a sheet that does not hold two is refused.
  runs 0 "badge-id-1-up-a4.pdf" -- print "$example" --to cut --what badge --up A4 --only "$one" $day
  is_true "badge faces lie on an A4 on its side" sh -c 'pdfinfo cut/*badge* | grep -q "Page size: *841.89 x 595.276"'
  runs 2 "card: two faces of A5 do not fit on Letter; they fit on A4, A3 or Tabloid" -- print "$example" --to cut --what card --paper A5 --up letter --only "$one" $day
  runs 0 "no card: two faces of A4 do not fit on A4; they fit on A3" -- print "$example" --to cut --up A4 --only "$one" $day
}

# An act too long for a badge card: nobody loses the other papers by it, and whoever asks for the card is told why there is none.
cp "$tree"/examples/*.ward .
talk="Step back to the far wall. Keep both of your hands where the wearer can see them. Say aloud what you touched. Say aloud when it was. Wait until you are answered."
sed "s/Step back to the wall\\./$talk/; /^use words/d; s/^\\( *languages *\\).*/\\1English/" aldermoss-exit.ward >long.ward
# shellcheck disable=SC2086
{
  runs 0 "card-a4.pdf" "no badge card: " "step B3.1: too long for one face of ID-1" -- print long.ward --to talk --only "$one" $day
  is_true "there is no badge card" test ! -e talk/AMH-IP-012-v2.1-gown-face-shield-boot-covers-badge-id-1.pdf
  runs 1 "step B3.1: too long for one face of ID-1" "nothing was printed" -- print long.ward --to talk2 --what badge --only "$one" $day
}

# A paper that would have nothing to say is not made, and that is told.
"$stepward" new hand-rub --to ours >/dev/null
runs 0 "no dilution card: no step uses a mixture" "no poster: nothing is taken off or put on" -- \
  print ours/hand-rub.ward --to dry --what dilution,kit,poster $(printf '%s' "$day")
is_true "the other one is there" sh -c 'ls dry/*-kit-a4-draft.pdf && [ "$(ls dry | wc -l)" = 1 ]' >/dev/null

# Errors: nothing at all without --draft, and DRAFT with it.
cp "$tree"/examples/*.ward .
sed '/known as rub before the first glove/d; /disinfect bare hands with hand rub/d' aldermoss-entry.ward >broken.ward
runs 1 "" -- check broken.ward --today 2030-11-01
runs 1 "nothing was printed" "--draft" -- print broken.ward --to refused --today 2030-11-01
is_true "no folder was made" test ! -e refused
runs 0 "draft.pdf" "not clean" -- print broken.ward --to drafts --draft --what card --only "$one" --today 2030-11-01
# The word lies across the page, so its letters come out of the file on several lines.
is_true "every page says DRAFT" sh -c 'for f in drafts/*.pdf; do
  pages=$(pdfinfo "$f" | sed -n "s/^Pages: *//p")
  [ "$pages" -gt 1 ] && [ "$(pdftotext -raw "$f" - | tr -d " \n" | grep -o DRAFT | wc -l)" -ge "$pages" ] || exit 1; done'

# What was printed for a later day is not printed over, unless that is asked for; what was printed for an earlier one is.
runs 0 "" -- print "$example" --to ours_now --what card,kit --only "$one" --today 2030-11-02
cp -r ours_now kept
runs 3 "was printed for 2030-11-02, later than 2030-11-01" "nothing was printed over what is newer" "--overwrite" -- \
  print "$example" --to ours_now --what script,card,kit --only "$one" --today 2030-11-01
is_true "the newer papers are untouched, and no other was put beside them" diff -rq ours_now kept
runs 0 "" -- print "$example" --to ours_now --what card,kit --only "$one" --today 2030-11-02
runs 0 "" -- print "$example" --to ours_now --what card,kit --only "$one" --today 2030-11-01 --overwrite
is_true "with --overwrite they are the older ones" sh -c '! diff -rq ours_now kept >/dev/null && [ "$(ls ours_now)" = "$(ls kept)" ]'
runs 0 "" -- print "$example" --to ours_now --what card,kit --only "$one" --today 2030-11-02
is_true "a later day goes over an earlier one" diff -rq ours_now kept
# What is no paper of this program bears no day.
card=AMH-IP-011-v2.0-gown-face-shield-boot-covers-card-a4.pdf
echo "not a paper" >ours_now/$card
runs 0 "" -- print "$example" --to ours_now --what card --only "$one" --today 2030-11-01
is_true "it was replaced" sh -c "head -c 5 ours_now/$card | grep -q %PDF"

# A folder that cannot be written to: nothing is changed.
: >a_file
runs 3 "a_file" -- print "$example" --to a_file --only "$one" --today 2030-11-01
if small_disk 64k; then
  runs 3 "the disk is full" "nothing was changed" -- print "$example" --to small_disk --only "$one" --today 2030-11-01
  is_true "nothing half-written" test -z "$(ls -A small_disk)"
  # Where earlier papers are, they stay: all of them, since a set of two days would be worse than an old one.
  cp ours_now/$card first.pdf
  head -c 1000 first.pdf >small_disk/$card
  head -c 1000 first.pdf >short.pdf
  runs 3 "the disk is full" "nothing was changed" -- print "$example" --to small_disk --only "$one" --today 2030-11-01
  is_true "the earlier file is the only one, and as it was" sh -c "[ \"\$(ls -A small_disk)\" = $card ] && cmp small_disk/$card short.pdf"
  remove_small_disk
fi
# A limit on the size of files stands in for a full disk where none can be made.
mkdir limited
cp short.pdf limited/$card 2>/dev/null || head -c 1000 ours_now/$card >limited/$card
cp limited/$card short.pdf
(
  trap '' XFSZ
  ulimit -f 8
  "$stepward" print "$example" --to limited --what card,kit --only "$one" --today 2030-11-01
) >answer.out 2>answer.err
is_true "a write that stops half way is trouble with a file" test $? = 3
is_true "and says that nothing was changed" grep -q "nothing was changed" answer.err
is_true "the earlier paper is the only one, and as it was" sh -c "[ \"\$(ls -A limited)\" = $card ] && cmp limited/$card short.pdf"

# A folder that this user may not write to. Root may write anywhere, so somebody else tries.
mkdir sealed
cp short.pdf sealed/$card
chmod 755 "$folder" sealed
as_nobody() { if [ "$(id -u)" = 0 ]; then setpriv --reuid 65534 --regid 65534 --clear-groups "$@"; else "$@"; fi; }
[ "$(id -u)" = 0 ] || chmod a-w sealed
if as_nobody test -x "$stepward" && as_nobody test -r "$example"; then
  as_nobody "$stepward" print "$example" --to sealed --what card --only "$one" --today 2030-11-01 >answer.out 2>answer.err
  is_true "a sealed folder is trouble with a file" test $? = 3
  is_true "it says why, and that nothing was changed" grep -q "cannot write sealed/.*: this user may not do that; nothing was changed" answer.err
  as_nobody "$stepward" print "$example" --to sealed/inside --what card --only "$one" --today 2030-11-01 >answer.out 2>answer.err
  is_true "nor can a folder be made in it" test $? = 3
  is_true "it says so" grep -q "cannot make the folder sealed/inside: this user may not do that" answer.err
  is_true "the earlier paper is as it was" cmp sealed/$card short.pdf
else
  echo "nobody else can run the program here, so no sealed folder is tried"
fi
finished
