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
  runs 2 "" -- print "$example" --to out --paper A3 --only "$one" $day
  runs 2 'no paper "poster"' "card, script, breach, kit, competency, dilution, sign-off" -- print "$example" --to out --what card,poster --only "$one" $day
  is_true "nothing was made for the others" test ! -e out/AMH-IP-011-v2.0-gown-face-shield-boot-covers-card-a4.pdf

  # Without --what: every paper, and the sign-off page lists the check words that each of the others carries.
  runs 0 "breach-a4.pdf" "kit-a4.pdf" "competency-a4.pdf" "AMH-IP-011-v2.0-dilution-a4.pdf" "AMH-IP-011-v2.0-sign-off-a4.pdf" -- print "$example" --to all --only "$one" $day
  is_true "seven papers" test "$(ls all | wc -l)" = 7
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

# A paper that would have nothing to say is not made, and that is told.
"$stepward" new hand-rub --to ours >/dev/null
runs 0 "no dilution card: no step uses a mixture" -- print ours/hand-rub.ward --to dry --what dilution,kit $(printf '%s' "$day")
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

# A folder that cannot be written to: nothing is changed.
: >a_file
runs 3 "a_file" -- print "$example" --to a_file --only "$one" --today 2030-11-01
if small_disk 64k; then
  runs 3 "the disk is full" "nothing was changed" -- print "$example" --to small_disk --only "$one" --today 2030-11-01
  is_true "nothing half-written" test -z "$(ls -A small_disk)"
  remove_small_disk
fi
finished
