#include "io/case/nearest_word.hpp"

#include <algorithm>
#include <cctype>

namespace halftool::io {
namespace {

bool same_letter(char a, char b) {
  return std::tolower(static_cast<unsigned char>(a)) == std::tolower(static_cast<unsigned char>(b));
}

}  // namespace

int edit_distance(std::string_view a, std::string_view b) {
  const size_t n = a.size();
  const size_t m = b.size();
  std::vector<std::vector<int>> cost(n + 1, std::vector<int>(m + 1));
  for (size_t i = 0; i <= n; ++i) cost[i][0] = static_cast<int>(i);
  for (size_t j = 0; j <= m; ++j) cost[0][j] = static_cast<int>(j);
  for (size_t i = 1; i <= n; ++i) {
    for (size_t j = 1; j <= m; ++j) {
      const int change = same_letter(a[i - 1], b[j - 1]) ? 0 : 1;
      cost[i][j] = std::min({cost[i - 1][j] + 1, cost[i][j - 1] + 1, cost[i - 1][j - 1] + change});
      if (i > 1 && j > 1 && same_letter(a[i - 1], b[j - 2]) && same_letter(a[i - 2], b[j - 1]))
        cost[i][j] = std::min(cost[i][j], cost[i - 2][j - 2] + 1);
    }
  }
  return cost[n][m];
}

std::string nearest_word(std::string_view word, const std::vector<std::string>& candidates) {
  std::string nearest;
  const int letters = static_cast<int>(word.size());
  int least = 1 + std::min({3, std::max(1, letters / 3), letters - 1});
  for (const auto& candidate : candidates) {
    const int distance = edit_distance(word, candidate);
    if (distance < least) {
      least = distance;
      nearest = candidate;
    }
  }
  return nearest;
}

}  // namespace halftool::io
