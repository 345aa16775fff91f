#pragma once
#include <array>
#include <functional>
#include <limits>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "io/case/case.hpp"
#include "io/case/quantity.hpp"

namespace halftool::io {

/// What kind of value a key takes.
enum class ValueKind {
  length,
  pressure,
  angle,
  ratio,  ///< bare number or %
  pressure_per_length,
  strain_rate,
  number,  ///< bare number without a unit
  count,   ///< whole number
  flag,    ///< true or false
  word,    ///< one of the listed words
  words,   ///< list of the listed words
  text,
  path,        ///< relative to the case file
  lengths,     ///< list of lengths
  ratios,      ///< list of ratios
  points,      ///< list of pairs of lengths
  flow_curve,  ///< list of pairs of plastic strain and true stress
  backstress,  ///< list of pairs of rate and modulus
  strains,     ///< list of pairs of minor and major strain
  schedule,    ///< list of pairs of share and pressure, or the peak alone
};

/// A value in internal units. Words and paths are texts; lengths and ratios are doubles; points,
/// schedules, flow curves and backstress are pairs.
using Pair = std::array<double, 2>;
using Value = std::variant<std::monostate,  ///< not set
                           bool, int, double, std::string, std::vector<std::string>, std::vector<double>,
                           std::vector<Pair>>;

/// Allowed numbers in internal units.
struct Range {
  double least = -std::numeric_limits<double>::infinity();
  double most = std::numeric_limits<double>::infinity();
  bool least_open = false;  ///< `least` itself is not allowed
  bool most_open = false;

  [[nodiscard]] bool holds(double value) const {
    return (least_open ? value > least : value >= least) && (most_open ? value < most : value <= most);
  }
};

/// How a key is taken from a case and put into it. `index` counts the tables of a list ([[blank.hole]]) from
/// 0.
struct Access {
  /// Nothing: the key has no place in this case (the depth of a cavity in a case with a block).
  std::function<std::optional<Value>(const Case&, int index)> get = {};
  std::function<void(Case&, int index, const Value&)> set = {};
};

/// One key of the case file. The table of these drives reading, range checks, defaults, the key reference and
/// the printed case. A default is what the specs (mesh::BlankSpec, solver::SolverSettings, ...) start with.
struct KeySpec {
  std::string path;  ///< "sheet.thickness"; in a list of tables "blank.hole[].at"
  ValueKind kind = ValueKind::text;
  bool required = false;        ///< wherever the key has a place
  std::string unit = {};        ///< printed with it; empty: a bare number
  Range hard = {};              ///< outside: an error
  std::string hard_note = {};   ///< what the error advises; empty: another unit, or a value within
  Range usual = {};             ///< outside: a warning
  std::string usual_note = {};  ///< what the warning advises
  size_t n_items = 0;           ///< of a list; 0: any
  std::vector<std::string> words = {};
  std::string about = {};
  std::vector<std::string> belongs_to = {};  ///< where a key that has no place here would have one
  Access access = {};
};

/// Members of a table of which exactly one must be given, or at most one.
struct Choice {
  std::string table;
  std::vector<std::string> members;
  std::string about;
  std::function<void(Case&, size_t member)> choose;
  bool optional = false;  ///< none may be given; nothing is chosen then
};

/// A list of tables, [[like.this]].
struct TableList {
  std::string path;
  size_t least = 0;
  size_t most = 0;
  std::function<size_t(const Case&)> size;
  std::function<void(Case&, size_t)> resize;
};

/// The whole vocabulary of the case file, in the order of printing and reading.
struct Schema {
  std::vector<KeySpec> keys;
  std::vector<Choice> choices;
  std::vector<TableList> lists;

  [[nodiscard]] const TableList* list_of(const std::string& key_path) const;
};

const Schema& schema();

/// What a numeric value of the key measures; nothing for numbers, counts and words.
std::optional<Dimension> dimension_of(ValueKind kind);

/// Access to a plain member: `member` is a generic function from a case (const or not) to a pointer; null
/// where the key has no place.
template <class Member>
Access direct(Member member) {
  return {[member](const Case& c, int) -> std::optional<Value> {
            const auto* place = member(c);
            return place == nullptr ? std::nullopt : std::optional<Value>(*place);
          },
          [member](Case& c, int, const Value& value) {
            auto* place = member(c);
            *place = std::get<std::remove_cvref_t<decltype(*place)>>(value);
          }};
}

/// Access to a plain member of the entries of a list of tables.
template <class Entry, class T>
Access in_list(std::vector<Entry> Case::*list, T Entry::*member) {
  return {[list, member](const Case& c, int i) -> std::optional<Value> {
            return (c.*list).at(static_cast<size_t>(i)).*member;
          },
          [list, member](Case& c, int i, const Value& value) {
            (c.*list).at(static_cast<size_t>(i)).*member = std::get<T>(value);
          }};
}

/// Access to an enumeration as a word; `words` in the order of the enumerators.
template <class Member>
Access as_word(Member member, const std::vector<std::string>& words) {
  return {[member, words](const Case& c, int) -> std::optional<Value> {
            return words.at(static_cast<size_t>(*member(c)));
          },
          [member, words](Case& c, int, const Value& value) {
            using Enumeration = std::remove_cvref_t<decltype(*member(c))>;
            const auto& word = std::get<std::string>(value);
            for (size_t i = 0; i < words.size(); ++i)
              if (words[i] == word) *member(c) = static_cast<Enumeration>(i);
          }};
}

/// The parts of the table; each appends its keys, choices and lists.
void add_sheet_keys(Schema& to);
void add_material_keys(Schema& to);
void add_hardening_choices(Schema& to);  ///< and keys of sheet.material itself
void add_hardening_tables(Schema& to);
void add_limit_keys(Schema& to);
void add_other_sheet_keys(Schema& to);
void add_blank_keys(Schema& to);
void add_tool_keys(Schema& to);
void add_insert_keys(Schema& to);
void add_trim_keys(Schema& to);
void add_run_keys(Schema& to);
void add_scatter_keys(Schema& to);

}  // namespace halftool::io
