# The exit codes that scripts rely on, and what goes to which stream.
. "$(dirname "$0")/lib.sh"

small_protocol >small.ward
runs 0 "0 errors, 0 warnings, 0 notes" "complete" -- check small.ward
is_true "a clean check says nothing on standard error" test ! -s answer.err

sed 's/take off plastic apron/take off plastic apro/' small.ward >misspelt.ward
runs 1 "misspelt.ward:" "1 error" -- check misspelt.ward
runs 3 "there is no such file" -- check missing.ward
runs 3 "it is a folder" -- check .
runs 3 "missing.ward:" "small.ward:" -- check small.ward missing.ward
runs 1 "misspelt.ward:" "small.ward:" -- check small.ward misspelt.ward

runs 2 "" -- check
runs 2 "" -- check small.ward --format yaml
runs 2 "is not a day" -- check small.ward --today 2031-02-30
runs 2 "did you mean \"check\"?" -- chek small.ward
runs 2 "stepward check small.ward" -- small.ward
runs 2 "there is no command" -- frobnicate
runs 2 "Usage" --
for later in compare; do
  runs 2 "not in this version yet" -- $later small.ward
done
runs 2 "" -- print small.ward
runs 2 "" -- dump small.ward --stage bones
runs 2 "there is no code \"Z999\"" -- explain Z999
runs 0 "P401" -- explain p401
runs 0 "F801" "P101" -- explain
runs 2 "nothing called \"nonsense\"" -- library nonsense
runs 0 "use library standard" -- library
runs 0 "stepward 1 library" -- library gloves
runs 0 "stepward " -- --version
for stage in tree model graph effects; do
  runs 0 "apron" -- dump small.ward --stage $stage
done

printf 'stepward 1 library\ndocument\n title "Words"\n number L-1\n version 1.0\n status draft\nend document\n' >words.ward
runs 0 "has no steps to walk" -- check words.ward
runs 1 "no phases" -- graph words.ward --as json
finished
