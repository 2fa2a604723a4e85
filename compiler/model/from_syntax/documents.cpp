// Document control: who wrote, looked at and released a file, and when it must be looked at again.

#include <algorithm>

#include "model/from_syntax/passes.hpp"

namespace stepward::model::reading {
namespace {

bool is_leap(int year) { return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0; }

/// True if `text`, of the form 2031-03-15, is a day of the calendar.
bool is_day(const std::string& text) {
  if (text.size() != 10) return false;
  const int year = std::stoi(text.substr(0, 4)), month = std::stoi(text.substr(5, 2)),
            day = std::stoi(text.substr(8, 2));
  constexpr int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  if (month < 1 || month > 12 || day < 1) return false;
  return day <= days[month - 1] + (month == 2 && is_leap(year));
}

class DocumentReader {
 public:
  DocumentReader(Context& context, const Place& place) : context_(context), place_(place), once_(context) {}

  DocumentControl run() {
    const Node& node = context_.node(place_);
    document_.span = node.span;
    for (const NodeId child : node.children) read(context_.tree(place_)[child]);
    return std::move(document_);
  }
  source::Span review_span() const { return review_; }

 private:
  void read(const Node& line) {
    switch (line.kind) {
      case NodeKind::title: text(line, "title", document_.title); break;
      case NodeKind::applies_to: text(line, "applies to", document_.applies_to); break;
      case NodeKind::number: written(line, "number", document_.number); break;
      case NodeKind::version: written(line, "version", document_.version); break;
      case NodeKind::replaces: written(line, "replaces", document_.replaces); break;
      case NodeKind::status: status(line); break;
      case NodeKind::written_by: signature(line, document_.written_by); break;
      case NodeKind::reviewed_by: signature(line, document_.reviewed_by); break;
      case NodeKind::approved_by: signature(line, document_.approved_by); break;
      case NodeKind::in_force_from: date(line, "in force from", document_.in_force_from); break;
      case NodeKind::review_due:
        date(line, "review due", document_.review_due);
        review_ = line.span;
        break;
      case NodeKind::languages: languages(line); break;
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

  void signature(const Node& line, std::vector<Signature>& into) {
    const auto reading = context_.read(line, context_.frames->signature);
    if (!reading) return;
    Signature signature{quoted(line, *reading), quoted(line, *reading, "office"), {}};
    if (const Segment* date = reading->find("date")) signature.date = checked_day(line, *date);
    into.push_back(std::move(signature));
  }

  void date(const Node& line, const std::string& what, std::string& into) {
    if (!once_.first(line, what)) return;
    if (const auto reading = context_.read(line, context_.frames->date_alone))
      into = checked_day(line, *reading->find("date"));
  }

  void languages(const Node& line) {
    for (const syntax::Token& token : line.phrase) {
      if (token.kind == syntax::TokenKind::word) document_.languages.push_back(token.written);
    }
  }

  Context& context_;
  Place place_;
  Once once_;
  DocumentControl document_;
  source::Span review_;
};

void check(Context& context, const DocumentControl& document, source::Span review, bool standard,
           const std::string& today) {
  if (document.title.empty()) context.report(Code::D102, document.span, {"title"});
  if (document.number.empty()) context.report(Code::D102, document.span, {"number"});
  if (document.version.empty()) context.report(Code::D102, document.span, {"version"});
  if (document.status == "approved" && document.approved_by.empty()) context.report(Code::D103, document.span);
  // Dates of the form 2031-03-15 compare like words.
  const bool both = !document.in_force_from.empty() && !document.review_due.empty();
  if (both && document.review_due <= document.in_force_from) {
    context.report(Code::D104, review, {document.review_due, document.in_force_from});
  }
  const bool counts = !standard && !today.empty() && document.status != "withdrawn";
  if (counts && !document.review_due.empty() && document.review_due < today) {
    context.report(Code::D105, review, {document.review_due, today});
  }
  if (document.status == "withdrawn") context.report(Code::D106, document.span);
}

}  // namespace

void read_documents(Context& context, const std::string& today) {
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
      check(context, found, reader.review_span(), context.loaded.files[file].standard, today);
    }
    // A file whose first line is wrong or that is empty was reported already.
    if (!first && !tree.file_kind.empty()) context.report(Code::D101, tree.root().span);
    if (file == 0) context.protocol.document = found;
    const bool standard = context.loaded.files[file].standard;
    context.protocol.packs.push_back({found.title, found.number, found.version, standard, found.span});
  }
}

}  // namespace stepward::model::reading
