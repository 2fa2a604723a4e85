// Document control: who wrote, looked at and released a file, and when it must be looked at again.

#include <algorithm>

#include "model/from_syntax/passes.hpp"

namespace stepward::model::reading {
namespace {

bool is_leap(int year) { return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0; }

/// Where the lines of a document block stand; empty spans for those that are missing.
struct DocumentPlaces {
  source::Span status, in_force, review, replaces;
  std::vector<source::Span> written_by, reviewed_by, approved_by;
};

class DocumentReader {
 public:
  DocumentReader(Context& context, const Place& place) : context_(context), place_(place), once_(context) {}

  DocumentControl run() {
    const Node& node = context_.node(place_);
    document_.span = node.span;
    for (const NodeId child : node.children) read(context_.tree(place_)[child]);
    return std::move(document_);
  }
  const DocumentPlaces& places() const { return places_; }

 private:
  void read(const Node& line) {
    switch (line.kind) {
      case NodeKind::title: text(line, "title", document_.title); break;
      case NodeKind::applies_to: text(line, "applies to", document_.applies_to); break;
      case NodeKind::number: written(line, "number", document_.number); break;
      case NodeKind::version: written(line, "version", document_.version); break;
      case NodeKind::replaces:
        written(line, "replaces", document_.replaces);
        places_.replaces = line.span;
        break;
      case NodeKind::status:
        status(line);
        places_.status = line.span;
        break;
      case NodeKind::written_by: signature(line, document_.written_by, places_.written_by); break;
      case NodeKind::reviewed_by: signature(line, document_.reviewed_by, places_.reviewed_by); break;
      case NodeKind::approved_by: signature(line, document_.approved_by, places_.approved_by); break;
      case NodeKind::in_force_from:
        date(line, "in force from", document_.in_force_from);
        places_.in_force = line.span;
        break;
      case NodeKind::review_due:
        date(line, "review due", document_.review_due);
        places_.review = line.span;
        break;
      case NodeKind::languages: languages(line); break;
      case NodeKind::weak_points:
        document_.marks_weak_points = once_.first(line, "weak points") && context_.read(line, context_.frames->weak_points).has_value();
        break;
      default: break;  // what may stand in which block is decided by parse
    }
  }

  void text(const Node& line, const std::string& what, std::string& into) {
    if (!once_.first(line, what)) return;
    if (const auto reading = context_.read(line, context_.frames->text_alone)) into = quoted(line, *reading);
  }

  void written(const Node& line, const std::string& what, std::string& into) {
    if (!once_.first(line, what)) return;
    if (line.phrase.empty()) {
      context_.report(Code::N104, line.span, {"its " + what});
      return;
    }
    for (const syntax::Token& token : line.phrase) {
      if (!into.empty()) into += ' ';
      into += token.written.empty() ? token.text : token.written;
    }
  }

  void status(const Node& line) {
    if (!once_.first(line, "status")) return;
    if (const auto reading = context_.read(line, context_.frames->status)) {
      document_.status = words(line, *reading->find("status"));
    }
  }

  std::string checked_day(const Node& line, const Segment& segment) {
    const std::string& day = line.phrase[segment.begin].text;
    if (is_day(day)) return day;
    context_.report(Code::D107, span_of(line, segment), {day});
    return {};
  }

  void signature(const Node& line, std::vector<Signature>& into, std::vector<source::Span>& places) {
    const auto reading = context_.read(line, context_.frames->signature);
    if (!reading) return;
    Signature signature{quoted(line, *reading), quoted(line, *reading, "office"), {}};
    if (const Segment* date = reading->find("date")) signature.date = checked_day(line, *date);
    const auto same = std::find_if(into.begin(), into.end(), [&](const Signature& other) { return other.name == signature.name && other.office == signature.office; });
    if (same != into.end()) {
      const std::string what = std::string(context_.files.text(line.head)) + " \"" + signature.name + '"';
      context_.report(Code::N113, line.span, {what}).places.push_back({places[static_cast<std::size_t>(same - into.begin())], "said first"});
      return;
    }
    into.push_back(std::move(signature));
    places.push_back(line.span);
  }

  void date(const Node& line, const std::string& what, std::string& into) {
    if (!once_.first(line, what)) return;
    if (const auto reading = context_.read(line, context_.frames->date_alone))
      into = checked_day(line, *reading->find("date"));
  }

  void languages(const Node& line) {
    if (!once_.first(line, "languages")) return;
    for (const syntax::Token& token : line.phrase) {
      if (token.kind == syntax::TokenKind::comma) continue;
      auto& all = document_.languages;
      if (token.kind != syntax::TokenKind::word) {
        context_.report(Code::N103, token.span, {token.written, "the name of a language"});
      } else if (std::find(all.begin(), all.end(), token.written) != all.end()) {
        context_.report(Code::N113, token.span, {token.written});
      } else {
        all.push_back(token.written);
      }
    }
    if (line.phrase.empty()) context_.report(Code::N104, line.span, {"a language"});
  }

  Context& context_;
  Place place_;
  Once once_;
  DocumentControl document_;
  DocumentPlaces places_;
};

/// 1.10 is later than 1.9; anything that is no such number is compared with nothing.
std::vector<int> version_parts(const std::string& version) {
  std::vector<int> parts(1, 0);
  for (const char c : version) {
    if (c == '.') parts.push_back(0);
    else if (c < '0' || c > '9' || parts.back() > 100'000) return {};
    else parts.back() = parts.back() * 10 + (c - '0');
  }
  return parts;
}

/// Document control, line by line and against each other. Dates of the form 2031-03-15 compare like words.
class DocumentCheck {
 public:
  DocumentCheck(Context& context, const DocumentControl& document, const DocumentPlaces& places, const std::string& today)
      : context_(context), document_(document), places_(places), today_(today) {}

  void run() {
    if (document_.title.empty()) context_.report(Code::D102, document_.span, {"title"});
    if (document_.number.empty()) context_.report(Code::D102, document_.span, {"number"});
    if (document_.version.empty()) context_.report(Code::D102, document_.span, {"version"});
    check_review();
    check_replaced();
    if (document_.status == "approved") check_approval();
    if (document_.status == "withdrawn") context_.report(Code::D106, document_.span);
    if (!today_.empty()) check_against_today();
  }

 private:
  void check_review() {
    const bool both = !document_.in_force_from.empty() && !document_.review_due.empty();
    if (both && document_.review_due <= document_.in_force_from) {
      context_.report(Code::D104, places_.review, {document_.review_due, document_.in_force_from});
    }
  }

  /// `replaces NUMBER version V` names an earlier version, if it is one of this document.
  void check_replaced() {
    const std::string& replaces = document_.replaces;
    const std::size_t at = replaces.rfind(" version ");
    if (at == std::string::npos || replaces.substr(0, at) != document_.number) return;
    const std::string old = replaces.substr(at + 9);
    const std::vector<int> before = version_parts(old), now = version_parts(document_.version);
    if (!before.empty() && !now.empty() && before >= now) context_.report(Code::D114, places_.replaces, {document_.version, old});
  }

  void check_approval() {
    if (document_.approved_by.empty()) context_.report(Code::D103, document_.span);
    if (document_.reviewed_by.empty()) context_.report(Code::D108, places_.status);
    if (document_.in_force_from.empty()) report_missing_date("in force from", "from which day people work by it, nobody can tell");
    if (document_.review_due.empty()) report_missing_date("review due", "nobody will notice when it grows old");
    check_days("reviewed", document_.reviewed_by, places_.reviewed_by);
    check_days("approved", document_.approved_by, places_.approved_by);
    for (std::size_t i = 0; i < document_.approved_by.size(); ++i) check_approver(document_.approved_by[i], places_.approved_by[i]);
    check_order();
  }

  void report_missing_date(const char* what, const char* why) { context_.report(Code::D113, places_.status, {what, why}); }

  void check_days(const char* what, const std::vector<Signature>& signatures, const std::vector<source::Span>& places) {
    for (std::size_t i = 0; i < signatures.size(); ++i) {
      if (signatures[i].date.empty()) context_.report(Code::D110, places[i], {what, signatures[i].name});
    }
  }

  void check_approver(const Signature& approver, source::Span at) {
    const auto wrote = [&](const Signature& writer) { return writer.name == approver.name; };
    if (std::any_of(document_.written_by.begin(), document_.written_by.end(), wrote)) context_.report(Code::D112, at, {approver.name});
  }

  /// Reviewed, then approved, then in force: the last approval counts.
  void check_order() {
    std::string approved;
    for (const Signature& approver : document_.approved_by) approved = std::max(approved, approver.date);
    if (approved.empty()) return;
    for (std::size_t i = 0; i < document_.reviewed_by.size(); ++i) {
      const std::string& reviewed = document_.reviewed_by[i].date;
      if (reviewed > approved) context_.report(Code::D111, places_.reviewed_by[i], {reviewed, approved});
    }
    const std::string& in_force = document_.in_force_from;
    if (!in_force.empty() && in_force < approved) context_.report(Code::D109, places_.in_force, {in_force, approved});
  }

  void check_against_today() {
    const bool counts = document_.status != "withdrawn";
    if (counts && !document_.review_due.empty() && document_.review_due < today_) {
      context_.report(Code::D105, places_.review, {document_.review_due, today_});
    }
    if (document_.status != "approved") return;
    if (document_.in_force_from > today_) context_.report(Code::D115, places_.in_force, {document_.in_force_from, today_});
    check_to_come("reviewed", document_.reviewed_by, places_.reviewed_by);
    check_to_come("approved", document_.approved_by, places_.approved_by);
  }

  void check_to_come(const char* what, const std::vector<Signature>& signatures, const std::vector<source::Span>& places) {
    for (std::size_t i = 0; i < signatures.size(); ++i) {
      if (signatures[i].date > today_) context_.report(Code::D116, places[i], {what, signatures[i].date, today_});
    }
  }

  Context& context_;
  const DocumentControl& document_;
  const DocumentPlaces& places_;
  const std::string& today_;  ///< empty: dates are held against no day
};

}  // namespace

bool is_day(const std::string& text) {
  if (text.size() != 10) return false;
  const int year = std::stoi(text.substr(0, 4)), month = std::stoi(text.substr(5, 2)),
            day = std::stoi(text.substr(8, 2));
  constexpr int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  if (month < 1 || month > 12 || day < 1) return false;
  return day <= days[month - 1] + (month == 2 && is_leap(year));
}

void read_documents(Context& context, const std::string& today) {
  const std::string no_day;  // the standard library is adopted with the program, not reviewed by the hospital
  for (std::uint32_t file = 0; file < context.loaded.files.size(); ++file) {
    const syntax::Tree& tree = context.loaded.files[file].tree;
    DocumentControl found;
    const Node* first = nullptr;
    for (const NodeId top : tree.root().children) {
      if (tree[top].kind != NodeKind::document) continue;
      if (first) {
        context.report(Code::N113, tree[top].head, {"the document block"})
            .places.push_back({first->head, "said first"});
        continue;
      }
      first = &tree[top];
      DocumentReader reader(context, {file, top});
      found = reader.run();
      DocumentCheck(context, found, reader.places(), context.loaded.files[file].standard ? no_day : today).run();
    }
    // A file whose first line is wrong or that is empty was reported already.
    if (!first && !tree.file_kind.empty()) context.report(Code::D101, tree.root().span);
    if (file == 0) context.protocol.document = found;
    const bool standard = context.loaded.files[file].standard;
    context.protocol.packs.push_back({found.title, found.number, found.version, standard, found.span});
  }
}

}  // namespace stepward::model::reading
