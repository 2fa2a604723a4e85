# print --as xhtml: web pages beside or instead of PDF, in a build with PDF and in one without (third argument: with-pdf or without-pdf).
. "$(dirname "$0")/lib.sh"

example=$tree/examples/aldermoss-entry.ward
one="gown, boot covers"
day="--today 2030-11-01"
card=AMH-IP-011-v2.0-gown-face-shield-boot-covers-card
# shellcheck disable=SC2086
{
  runs 0 "$card-a4.html  a web page" "checked against" -- print "$example" --to pages --as xhtml --what card,sign-off --only "$one" $day
  is_true "only pages were made" test "$(ls pages)" = "$card-a4.html
AMH-IP-011-v2.0-sign-off-a4.html"
  is_true "it is a page" sh -c 'head -n 1 pages/*card-a4.html | grep "^<!DOCTYPE html><html xmlns" >/dev/null && tail -n 1 pages/*card-a4.html | grep "</html>$" >/dev/null'
  cp pages/$card-a4.html first.html
  rm pages/$card-a4.html
  runs 0 "" -- print "$example" --to pages --as xhtml --what card --only "$one" $day
  is_true "two runs give the same bytes" cmp pages/$card-a4.html first.html

  # The check words of a page are those that the sign-off page of the same run lists.
  words=$(sed -n 's/.*class="check-words">[^<]*<strong><bdi>\([^<]*\)<.*/\1/p' first.html)
  is_true "the card has check words" test -n "$words"
  is_true "they are on the sign-off page" grep -F "$words" pages/AMH-IP-011-v2.0-sign-off-a4.html >/dev/null

  # Of the day nothing but the day itself is in a page.
  runs 0 "" -- print "$example" --to tomorrow --as xhtml --what card --only "$one" --today 2030-11-02
  is_true "tomorrow's page has another date" grep -F '"dcterms.date" content="2030-11-02"' tomorrow/$card-a4.html >/dev/null
  sed 's/2030-11-02/2030-11-01/' tomorrow/$card-a4.html >tomorrow.html
  is_true "and is the same in all other things" cmp tomorrow.html first.html

  runs 3 "later than" "--overwrite" -- print "$example" --to tomorrow --as xhtml --what card --only "$one" $day
  is_true "tomorrow's page is still there" grep -F '"dcterms.date" content="2030-11-02"' tomorrow/$card-a4.html >/dev/null

  runs 0 "draft.html" -- print "$example" --to drafts --as xhtml --what card --only "$one" --draft $day
  is_true "a draft says so" grep -F '<p class="mark">DRAFT</p>' drafts/$card-a4-draft.html >/dev/null
  runs 2 "docx" "pdf" "xhtml" -- print "$example" --to none --as docx $day
  is_true "nothing was made for an unknown format" test ! -e none

  if [ "${3-}" = with-pdf ]; then
    runs 0 "$card-a5.pdf" "$card-a5.html  a web page" -- print "$example" --to both --as pdf,xhtml --paper A5 --what card --only "$one" $day
    is_true "both are there" test "$(ls both | wc -l)" = 2
    is_true "a PDF and a page have the same check words" sh -c 'pdfinfo both/*.pdf | grep -F "$1" >/dev/null && grep -F "$1" both/*.html >/dev/null' - "$words"
  else
    runs 2 "built without PDF" "--as xhtml" -- print "$example" --to none --only "$one" $day
    is_true "nothing was made without PDF" test ! -e none
  fi

  : >a_file
  runs 3 "a_file" -- print "$example" --to a_file --as xhtml --what card --only "$one" $day
  sed '/known as rub before the first glove/d; /disinfect bare hands with hand rub/d' "$example" >broken.ward
  cp "$tree"/examples/aldermoss-library.ward "$tree"/examples/aldermoss-rules.ward .
  runs 1 "nothing was printed" "--draft" -- print broken.ward --to refused --as xhtml $day
  is_true "no folder was made" test ! -e refused
}
finished
