# Writes the text of every page of docs/findings/ into one C++ source.
# LIST: a file naming the pages, one a line; OUT: the source to write.
# A raw string literal may not be longer than 64 KiB everywhere, so a text is cut into pieces that the compiler joins.

file(STRINGS "${LIST}" paths)
list(SORT paths)
set(count 0)
file(WRITE "${OUT}.part"
  "// Generated from docs/findings/. Do not edit.\n"
  "#include \"driver/finding_pages.hpp\"\n\n"
  "namespace stepward::driver {\nnamespace {\n\n"
  "constexpr FindingPage pages[] = {\n")
foreach(path IN LISTS paths)
  get_filename_component(code "${path}" NAME_WE)
  file(READ "${path}" text)
  if(text MATCHES "\\)page\"")
    message(FATAL_ERROR "${path} holds the words that end an embedded text")
  endif()
  file(APPEND "${OUT}.part" "    {\"${code}\", ")
  string(LENGTH "${text}" left)
  set(from 0)
  while(left GREATER 0)
    string(SUBSTRING "${text}" ${from} 8000 piece)
    string(LENGTH "${piece}" taken)
    file(APPEND "${OUT}.part" "R\"page(${piece})page\"\n")
    math(EXPR from "${from} + ${taken}")
    math(EXPR left "${left} - ${taken}")
  endwhile()
  file(APPEND "${OUT}.part" "     \"\"},\n")
  math(EXPR count "${count} + 1")
endforeach()
file(APPEND "${OUT}.part"
  "    {\"\", \"\"},\n};\n\n}  // namespace\n\n"
  "std::span<const FindingPage> finding_pages() { return {pages, ${count}}; }\n\n"
  "}  // namespace stepward::driver\n")
file(RENAME "${OUT}.part" "${OUT}")
