#include "solver/assessment/governing_share.hpp"

#include <array>

namespace halftool::solver {
namespace {

/// The larger share and its kind.
struct Best {
  double share = 0;
  LimitKind kind = LimitKind::none;

  void take(double other, LimitKind of) {
    if (!(other > share)) return;  // nor what is not a number
    share = other;
    kind = of;
  }
};

double at(const Eigen::VectorXd& values, Eigen::Index triangle) {
  return values.size() > 0 ? values(triangle) : 0;
}

}  // namespace

std::string kind_word(LimitKind kind) {
  static const std::array<const char*, 6> words = {"none", "splitting", "thinning",
                                                   "edge", "bend",      "wrinkling"};
  return words.at(static_cast<std::size_t>(kind));
}

GoverningShare add_governing_shares(SheetFields& fields, const ShareLimits& limits) {
  const Eigen::Index n = fields.triangles.rows();
  fields.face_share.setZero(n, 2);
  fields.face_kind.setZero(n, 2);
  Eigen::MatrixX2d bent;
  if (limits.bend_strain) bent = fields.bent_strain / *limits.bend_strain;
  GoverningShare largest;
  for (Eigen::Index t = 0; t < n; ++t)
    for (Eigen::Index face = 0; face < 2; ++face) {
      Best best;
      best.take(at(fields.limit_share, t), LimitKind::splitting);
      best.take(at(fields.path_share, t), LimitKind::splitting);
      if (limits.thinning) best.take(fields.thinning(t) / *limits.thinning, LimitKind::thinning);
      best.take(at(fields.edge_share, t), LimitKind::edge);
      if (bent.rows() > 0) best.take(bent(t, face), LimitKind::bend);
      if (best.share > largest.share) largest = {best.share, best.kind, static_cast<int>(t), face == 0};
      best.take(at(fields.wrinkling, t), LimitKind::wrinkling);
      fields.face_share(t, face) = best.share;
      fields.face_kind(t, face) = static_cast<double>(best.kind);
    }
  return largest;
}

}  // namespace halftool::solver
