// Writes the dictionary of the fuzz target from the keyword list: every head, end, verb and joining word, so that
// random changes make lines that get past the grammar.

#include <cstdio>
#include <set>
#include <string>

namespace {

std::set<std::string> all_words() {
  std::set<std::string> words = {"stepward 1 protocol\n",
                                 "stepward 1 library\n",
                                 "stepward 1 rules\n",
                                 "end ",
                                 "\n",
                                 "\n  ",
                                 "is normal",
                                 "is emergency",
                                 "wearing",
                                 "1 part with 9 parts",
                                 "any item",
                                 "\"x\"",
                                 "# "};
#define STEPWARD_HEAD(id, head, closes) \
  words.insert(head);                   \
  if (*closes != 0) words.insert(std::string("end ") + closes);
#define STEPWARD_VERB(id, command, third) \
  words.insert(command);                  \
  words.insert(third);
#define STEPWARD_JOINER(word) words.insert(word);
#include "keywords.def"
  words.erase("");
  return words;
}

std::string escaped(const std::string& word) {
  std::string out;
  for (const char c : word) {
    if (c == '"' || c == '\\') out += '\\';
    if (c == '\n') {
      out += "\\x0A";
    } else {
      out += c;
    }
  }
  return out;
}

}  // namespace

int main(int count, char** arguments) {
  std::FILE* file = count == 2 ? std::fopen(arguments[1], "w") : nullptr;
  if (file == nullptr) return 1;
  for (const std::string& word : all_words()) std::fprintf(file, "\"%s\"\n", escaped(word).c_str());
  return std::fclose(file) == 0 ? 0 : 1;
}
