#include "io/case/schema/schema.hpp"

namespace halftool::io {
namespace {

const TrimLine& trim_at(const Case& c, int i) {
  return c.trims.at(static_cast<size_t>(i));
}
TrimLine& trim_at(Case& c, int i) {
  return c.trims.at(static_cast<size_t>(i));
}

/// A text that is not set where it is empty.
template <class Member>
Access text_if_given(Member member) {
  return {
      [member](const Case& c, int i) -> std::optional<Value> {
        const std::string& text = member(trim_at(c, i));
        return text.empty() ? Value() : Value(text);
      },
      [member](Case& c, int i, const Value& value) { member(trim_at(c, i)) = std::get<std::string>(value); }};
}

Access optional_text(std::optional<std::string> BlankDrawing::*member) {
  return {[member](const Case& c, int i) -> std::optional<Value> {
            const auto& text = trim_at(c, i).drawing.*member;
            return text ? Value(*text) : Value();
          },
          [member](Case& c, int i, const Value& value) {
            trim_at(c, i).drawing.*member = std::get<std::string>(value);
          }};
}

Access corners() {
  return {[](const Case& c, int i) -> std::optional<Value> {
            if (trim_at(c, i).polygon.empty()) return Value();
            std::vector<Pair> pairs;
            for (const auto& at : trim_at(c, i).polygon) pairs.push_back({at.x(), at.y()});
            return pairs;
          },
          [](Case& c, int i, const Value& value) {
            for (const auto& [x, y] : std::get<std::vector<Pair>>(value))
              trim_at(c, i).polygon.emplace_back(x, y);
          }};
}

/// A number of choices as words, in their order.
template <class Member>
Access numbered_word(Member member, const std::vector<std::string>& words) {
  return {[member, words](const Case& c, int i) -> std::optional<Value> {
            return words.at(static_cast<size_t>(member(trim_at(c, i))));
          },
          [member, words](Case& c, int i, const Value& value) {
            using Number = std::remove_cvref_t<decltype(member(trim_at(c, i)))>;
            for (size_t word = 0; word < words.size(); ++word)
              if (words[word] == std::get<std::string>(value))
                member(trim_at(c, i)) = static_cast<Number>(word);
          }};
}

}  // namespace

void add_trim_keys(Schema& s) {
  s.lists.push_back({"trim", 0, 20, [](const Case& c) { return c.trims.size(); },
                     [](Case& c, size_t n) { c.trims.resize(n); }});
  s.keys.insert(
      s.keys.end(),
      {{.path = "trim[].after_step",
        .kind = ValueKind::text,
        .about = "name of the step after which the sheet is trimmed; not set: after the last",
        .access = text_if_given([](auto& trim) -> auto& { return trim.after_step; })},
       {.path = "trim[].drawing",
        .kind = ValueKind::path,
        .about = "DXF file with the trim line, closed curves in the tool's frame; or a polygon",
        .access = text_if_given([](auto& trim) -> auto& { return trim.drawing.path; })},
       {.path = "trim[].layer",
        .kind = ValueKind::text,
        .about = "the only layer of the drawing that counts; not set: all that are on and not frozen",
        .access = optional_text(&BlankDrawing::layer)},
       {.path = "trim[].length_unit",
        .kind = ValueKind::word,
        .words = units_of(Dimension::length),
        .about = "what the drawing is drawn in, where it does not say so itself",
        .access = optional_text(&BlankDrawing::length_unit)},
       {.path = "trim[].polygon",
        .kind = ValueKind::points,
        .unit = "mm",
        .hard = {-1e4, 1e4},
        .about = "corners of the trim line in the tool's frame, instead of a drawing",
        .access = corners()},
       {.path = "trim[].keep",
        .kind = ValueKind::word,
        .words = {"inside", "outside"},
        .about = "the part that is kept: inside the line, or outside (a window is cut out)",
        .access = numbered_word([](auto& trim) -> auto& { return trim.keep; }, {"inside", "outside"})},
       {.path = "trim[].along",
        .kind = ValueKind::word,
        .words = {"x", "y", "z"},
        .about = "axis of the tool along which the line is projected onto the formed sheet as it lies on the "
                 "tool; the line is drawn in (x, y) for z, the press axis, in (x, z) for y, in (y, z) for x",
        .access = numbered_word([](auto& trim) -> auto& { return trim.along; }, {"x", "y", "z"})},
       {.path = "trim[].when",
        .kind = ValueKind::word,
        .words = {"after release", "before release"},
        .about = "after the last step: from the free part, or while it lies on the tool without pressure",
        .access = numbered_word([](auto& trim) -> auto& { return trim.when; },
                                {"after release", "before release"})}});
}

}  // namespace halftool::io
