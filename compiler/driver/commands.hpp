#pragma once
// The commands: what each was asked, and the function that does it. One file a command.

#include <string>
#include <vector>

#include "driver/host.hpp"

namespace stepward::driver {

struct CheckRequest {
  std::vector<std::string> files;
  bool as_json = false;
  std::string only;
  std::string today;           ///< empty: the clock's
  std::string witness;         ///< a rule's number, or "all"
  bool interruptions = true;
  std::uint64_t limit = 20'000'000;
  bool timings = false;
  Colour colour = Colour::automatic;
};
Outcome check_command(const CheckRequest& request, const Host& host);

struct PrintRequest {
  std::string file;
  std::string folder;
  std::vector<std::string> what = {"card", "script"};
  std::string paper = "A4";
  std::string only;
  std::string today;
  std::string language;        ///< empty: as it was written
  bool draft = false;
};
Outcome print_command(const PrintRequest& request, const Host& host);

struct GraphRequest {
  std::string file;
  std::string format = "json";
  std::string output;          ///< empty: standard output
  std::string only;
};
Outcome graph_command(const GraphRequest& request);

struct ExplainRequest { std::string code; };
Outcome explain_command(const ExplainRequest& request);

struct DumpRequest {
  std::string file;
  std::string stage;
  std::string only;
};
Outcome dump_command(const DumpRequest& request);

struct WordsRequest {
  std::string file;
  std::string language;
  std::string output;          ///< empty: standard output
};
Outcome words_command(const WordsRequest& request, const Host& host);

struct LibraryRequest { std::string name; };
Outcome library_command(const LibraryRequest& request);

struct TidyRequest {
  std::vector<std::string> files;  ///< "-" is standard input
  bool only_look = false;          ///< name what is not tidy, and change nothing
  bool print = false;              ///< to standard output instead of back in place
};
Outcome tidy_command(const TidyRequest& request);

}  // namespace stepward::driver
