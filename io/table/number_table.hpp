#pragma once
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "io/case/case_error.hpp"

namespace halftool::io {

/// A column of a table in text: "engineering stress [MPa]".
struct TableColumn {
  std::string heading;  ///< as it stands in the file
  std::string name;     ///< without the unit, in small letters: "engineering stress"
  std::string unit;     ///< in brackets or parentheses; empty: none
};

/// A table of one heading line and rows of numbers: separated by comma, semicolon or tab; a decimal comma is
/// read where the separator is a semicolon or a tab. Empty lines and lines that begin with # are skipped.
struct NumberTable {
  struct Row {
    int line = 0;
    std::vector<std::string> cells;
  };
  std::string file;
  int heading_line = 0;
  char separator = ',';
  std::vector<TableColumn> columns;
  std::vector<Row> rows;
};

/// @throws CaseError  no such file, no heading, rows of another number of cells
NumberTable read_number_table(const std::filesystem::path& file);
NumberTable parse_number_table(std::string_view text, const std::string& file);

/// The numbers of one column.
/// @throws CaseError  cells that are no number, each with its line; the first and their number where they are
///         many
std::vector<double> numbers_in(const NumberTable& table, std::size_t column);

/// Places of the columns whose name holds a word.
std::vector<std::size_t> columns_with(const NumberTable& table, std::string_view word);

/// The one column whose name holds a word.
/// @throws CaseError  there is none, or there are several
std::size_t column_with(const NumberTable& table, const std::string& word, const std::string& example);

/// The factor that turns a strain of this column into a number: 1 for none, -, mm/mm, in/in, m/m; 0.01 for %.
/// @throws CaseError  another unit
double strain_factor(const NumberTable& table, std::size_t column);

}  // namespace halftool::io
