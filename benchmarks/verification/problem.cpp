#include "benchmarks/verification/problem.hpp"

#include <fmt/format.h>

#include <cmath>
#include <utility>

namespace halftool::verification {

bool Row::holds() const {
  return !allowed || std::abs(error) <= *allowed;
}

std::string mesh_words(int along, int across, unsigned seed) {
  return fmt::format("{} x {}, {}", along, across,
                     seed ? fmt::format("irregular, seed {}", seed) : "structured");
}

Row compare(std::string quantity, std::string mesh, double value, double reference) {
  Row row;
  row.quantity = std::move(quantity);
  row.mesh = std::move(mesh);
  row.value = value;
  row.reference = reference;
  row.error = value / reference - 1;
  return row;
}

std::optional<double> observed_rate(double coarse_error, double fine_error, double size_ratio) {
  if (!(coarse_error * fine_error > 0) || !(std::abs(fine_error) < std::abs(coarse_error)))
    return std::nullopt;
  return std::log(coarse_error / fine_error) / std::log(size_ratio);
}

std::string words_of(Evidence evidence) {
  switch (evidence) {
    case Evidence::published:
      return "published";
    case Evidence::quoted:
      return "published, read in files that quote it";
    case Evidence::from_memory:
      return "published, from memory";
    case Evidence::closed_form:
      return "closed form";
    case Evidence::own_fine_mesh:
      return "our own fine mesh";
  }
  return {};
}

}  // namespace halftool::verification
