#include "io/table/number_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <charconv>
#include <cmath>
#include <fstream>
#include <optional>
#include <regex>
#include <sstream>

namespace halftool::io {
namespace {

constexpr std::size_t most_problems = 20;

[[noreturn]] void refuse(const NumberTable& table, int line, std::string key, std::string found,
                         std::string allowed, std::string mend) {
  throw CaseError(
      {{table.file, line, std::move(key), std::move(found), std::move(allowed), std::move(mend)}});
}

std::string trimmed(std::string_view text) {
  const auto blank = [](char c) { return std::isspace(static_cast<unsigned char>(c)) != 0; };
  while (!text.empty() && blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && blank(text.back())) text.remove_suffix(1);
  if (text.size() >= 2 && text.front() == '"' && text.back() == '"') text = text.substr(1, text.size() - 2);
  return std::string(text);
}

std::vector<std::string> cells_of(const std::string& line, char separator) {
  std::vector<std::string> cells;
  std::string cell;
  bool quoted = false;
  for (const char c : line) {
    if (c == '"') quoted = !quoted;
    if (c == separator && !quoted) {
      cells.push_back(trimmed(cell));
      cell.clear();
    } else {
      cell += c;
    }
  }
  cells.push_back(trimmed(cell));
  return cells;
}

char separator_of(const std::string& heading) {
  if (heading.find('\t') != std::string::npos) return '\t';
  return heading.find(';') != std::string::npos ? ';' : ',';
}

TableColumn column_of(const std::string& heading) {
  TableColumn column{heading, heading, ""};
  const auto open = heading.find_first_of("[(");
  if (open != std::string::npos) {
    const auto close = heading.find_first_of("])", open);
    column.unit = trimmed(std::string_view(heading).substr(open + 1, close - open - 1));
    column.name = trimmed(std::string_view(heading).substr(0, open));
  }
  std::transform(column.name.begin(), column.name.end(), column.name.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return column;
}

std::optional<double> number_of(std::string cell, char separator) {
  if (separator != ',' && cell.find('.') == std::string::npos &&
      std::count(cell.begin(), cell.end(), ',') == 1)
    std::replace(cell.begin(), cell.end(), ',', '.');
  if (cell.starts_with('+')) cell.erase(0, 1);
  double value = 0;
  const char* end = cell.data() + cell.size();
  const auto [stop, fault] = std::from_chars(cell.data(), end, value);
  if (cell.empty() || fault != std::errc() || stop != end || !std::isfinite(value)) return std::nullopt;
  return value;
}

bool has_letter(const std::string& cell) {
  return std::any_of(cell.begin(), cell.end(), [](unsigned char c) { return std::isalpha(c) != 0; });
}

/// Names, not numbers: "e1", but not "1e-3".
bool is_heading(const std::vector<std::string>& cells, char separator) {
  return std::any_of(cells.begin(), cells.end(), [&](const std::string& cell) {
    return has_letter(cell) && !number_of(cell, separator);
  });
}

/// Ends of lines as one sign, whatever machine wrote them.
std::string with_plain_ends(std::string_view text) {
  std::string plain;
  plain.reserve(text.size());
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] != '\r')
      plain += text[i];
    else if (i + 1 == text.size() || text[i + 1] != '\n')
      plain += '\n';
  }
  return plain;
}

/// Whether a cell groups its digits by threes: "1,256.5", "1.256,5", "1 256.5".
bool is_grouped(const std::string& cell) {
  static const std::regex grouped(R"([+-]?\d{1,3}([,.' ])\d{3}(\1\d{3})*([.,]\d*)?)");
  return std::regex_match(cell, grouped);
}

CaseProblem no_number(const NumberTable& table, const NumberTable::Row& row, std::size_t column) {
  const std::string& cell = row.cells[column];
  return {table.file,
          row.line,
          table.columns[column].heading,
          cell.empty() ? "nothing" : cell,
          "a number",
          is_grouped(cell) ? "leave out the sign between the thousands"
                           : "write a bare number; its unit stands in the heading"};
}

}  // namespace

NumberTable parse_number_table(std::string_view text, const std::string& file) {
  NumberTable table;
  table.file = file;
  if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
  if (text.find('\0') != std::string_view::npos)
    refuse(table, 0, "", "text of two bytes a letter (UTF-16), or no text", "text in UTF-8 or ASCII",
           "save the table again as CSV in UTF-8");
  std::istringstream lines{with_plain_ends(text)};
  int number = 0;
  for (std::string line; std::getline(lines, line);) {
    ++number;
    const auto bare = trimmed(line);
    if (bare.empty() || bare.starts_with('#')) continue;
    if (table.columns.empty()) {
      table.separator = separator_of(line);
      const auto cells = cells_of(line, table.separator);
      if (!is_heading(cells, table.separator))
        refuse(table, number, "", bare.substr(0, 40), "a line of headings with units first",
               "begin with a line such as: engineering strain [%], engineering stress [MPa] (a tensile "
               "test), or "
               "minor strain [%], major strain [%] (a forming limit)");
      table.heading_line = number;
      for (const auto& cell : cells) table.columns.push_back(column_of(cell));
      continue;
    }
    auto cells = cells_of(line, table.separator);
    if (cells.size() != table.columns.size())
      refuse(table, number, "", fmt::format("{} cells", cells.size()),
             fmt::format("{}, as in the headings", table.columns.size()),
             table.separator == ',' ? "separate columns by semicolons where the decimal sign is a comma"
                                    : "give each row one cell for each heading");
    table.rows.push_back({number, std::move(cells)});
  }
  if (table.columns.empty())
    refuse(table, 0, "", "no lines", "a line of headings and rows of numbers", "check the file");
  return table;
}

NumberTable read_number_table(const std::filesystem::path& file) {
  NumberTable nothing;
  nothing.file = file.string();
  constexpr std::uintmax_t largest = 64U << 20U;
  std::error_code code;
  if (!std::filesystem::is_regular_file(file, code))
    refuse(nothing, 0, "", std::filesystem::exists(file, code) ? "no regular file" : "no such file",
           "a table of numbers with separators (CSV)", "check the path");
  if (std::filesystem::file_size(file, code) > largest)
    refuse(nothing, 0, "", "a file of more than 64 MB", "a table of numbers", "check the path");
  std::ifstream stream(file, std::ios::binary);
  std::ostringstream text;
  text << stream.rdbuf();
  if (!stream)
    refuse(nothing, 0, "", "a file that cannot be read", "a table of numbers", "check its permissions");
  return parse_number_table(text.str(), file.string());
}

std::vector<double> numbers_in(const NumberTable& table, std::size_t column) {
  std::vector<double> numbers;
  std::vector<CaseProblem> problems;
  for (const auto& row : table.rows) {
    if (const auto value = number_of(row.cells[column], table.separator))
      numbers.push_back(*value);
    else
      problems.push_back(no_number(table, row, column));
  }
  if (problems.size() > most_problems) {  // one mistake, all down the column
    problems.front().found += fmt::format(", and {} cells below that are no numbers", problems.size() - 1);
    problems.resize(1);
  }
  if (!problems.empty()) throw CaseError(std::move(problems));
  return numbers;
}

std::vector<std::size_t> columns_with(const NumberTable& table, std::string_view word) {
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < table.columns.size(); ++i)
    if (table.columns[i].name.find(word) != std::string::npos) found.push_back(i);
  return found;
}

std::size_t column_with(const NumberTable& table, const std::string& word, const std::string& example) {
  const auto found = columns_with(table, word);
  if (found.size() == 1) return found.front();
  std::vector<std::string> headings;
  for (const auto& column : table.columns) headings.push_back(column.heading);
  refuse(table, table.heading_line, "", fmt::format("headings {}", fmt::join(headings, ", ")),
         fmt::format("one column of {}", word),
         found.empty() ? fmt::format("name it, for example {}", example)
                       : "keep one of these columns, with one unit");
}

double strain_factor(const NumberTable& table, std::size_t column) {
  const auto& unit = table.columns[column].unit;
  for (const char* plain : {"", "-", "1", "mm/mm", "m/m", "in/in"})
    if (unit == plain) return 1;
  if (unit == "%") return 0.01;
  refuse(table, table.heading_line, table.columns[column].heading, unit, "%, mm/mm, in/in, m/m or -",
         "write the unit of strain in brackets, for example [%]");
}

}  // namespace halftool::io
