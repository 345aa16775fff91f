#include "mesh/chain_curves.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <sstream>

#include "mesh/drawn_strand.hpp"
#include "mesh/nest_loops.hpp"

namespace halftool::mesh {
namespace {

using Eigen::Vector2d;

constexpr double told_gap = 1e-6;  // smaller ones are rounding [mm]

/// One end of a strand: strand number times two, plus which end.
using End = std::size_t;

Vector2d place_of(const std::vector<Strand>& strands, End end) {
  return strands[end / 2].ends[end % 2];
}

std::vector<End> open_ends(const std::vector<Strand>& strands) {
  std::vector<End> ends;
  for (std::size_t i = 0; i < strands.size(); ++i)
    if (!strands[i].closed) ends.insert(ends.end(), {2 * i, 2 * i + 1});
  std::stable_sort(ends.begin(), ends.end(),
                   [&](End a, End b) { return place_of(strands, a).x() < place_of(strands, b).x(); });
  return ends;
}

[[noreturn]] void refuse_gap(const std::vector<Strand>& strands, const std::vector<End>& open) {
  double size = std::numeric_limits<double>::infinity();
  End here = open.front();
  for (std::size_t i = 0; i < open.size(); ++i) {
    for (std::size_t j = i + 1; j < open.size(); ++j) {
      const Vector2d apart = place_of(strands, open[j]) - place_of(strands, open[i]);
      if (apart.x() >= size) break;  // sorted by x
      const double distance = apart.norm();
      if (distance >= size) continue;
      size = distance;
      here = open[i];
    }
  }
  std::ostringstream text;
  text << "the outline is open: gap " << in_mm(size) << " at " << in_plane(place_of(strands, here));
  if (open.size() > 2) text << ", and " << open.size() - 2 << " more open ends";
  text << "; close it in the drawing (gaps up to " << chaining_tolerance << " mm are closed by themselves)";
  throw MeshError(text.str());
}

/// The end that each end is joined to.
std::vector<End> join(const std::vector<Strand>& strands) {
  const std::vector<End> ends = open_ends(strands);
  constexpr End none = std::numeric_limits<End>::max();
  std::vector<End> mate(2 * strands.size(), none);
  for (std::size_t a = 0; a < ends.size(); ++a) {
    for (std::size_t b = a + 1; b < ends.size(); ++b) {
      const Vector2d x = place_of(strands, ends[a]);
      const Vector2d y = place_of(strands, ends[b]);
      if (y.x() - x.x() > chaining_tolerance) break;
      if ((y - x).norm() > chaining_tolerance) continue;
      if (mate[ends[a]] != none || mate[ends[b]] != none)
        throw MeshError("more than two curves of the drawing end at " + in_plane(x) +
                        "; an outline passes each point once: trim or delete what does not belong to it");
      mate[ends[a]] = ends[b];
      mate[ends[b]] = ends[a];
    }
  }
  std::vector<End> open;
  std::copy_if(ends.begin(), ends.end(), std::back_inserter(open),
               [&](End end) { return mate[end] == none; });
  if (!open.empty()) refuse_gap(strands, open);
  return mate;
}

struct ClosedGaps {
  int n = 0;
  double largest = 0;  ///< [mm]
  Vector2d at{0, 0};   ///< [mm]
};

/// Puts joined ends in one place.
ClosedGaps close_gaps(std::vector<Strand>& strands, const std::vector<End>& mate) {
  ClosedGaps gaps;
  for (End end = 0; end < mate.size(); ++end) {
    const End other = mate[end];
    if (strands[end / 2].closed || other <= end) continue;
    Vector2d& x = strands[end / 2].ends[end % 2];
    Vector2d& y = strands[other / 2].ends[other % 2];
    const double gap = (x - y).norm();
    if (gap > told_gap) ++gaps.n;
    if (gap > gaps.largest) {
      gaps.largest = gap;
      gaps.at = x;
    }
    const bool x_on_arc = strands[end / 2].is_arc();
    const bool y_on_arc = strands[other / 2].is_arc();
    const Vector2d joint = x_on_arc == y_on_arc ? Vector2d(0.5 * (x + y)) : x_on_arc ? x : y;
    x = y = joint;
  }
  return gaps;
}

Loop circle_of(const Strand& strand) {
  const auto& arc = std::get<ArcCurve>(strand.curve);
  return circle(arc.centre, arc.radius, "");
}

/// Follows the joints from strand to strand until they come back.
std::vector<Loop> follow(const std::vector<Strand>& strands, const std::vector<End>& mate) {
  std::vector<Loop> loops;
  std::vector<bool> used(strands.size(), false);
  for (std::size_t first = 0; first < strands.size(); ++first) {
    if (used[first]) continue;
    if (strands[first].closed) {
      loops.push_back(circle_of(strands[first]));
      continue;
    }
    Loop loop;
    for (End in = 2 * first; !used[in / 2]; in = mate[in ^ 1U]) {
      used[in / 2] = true;
      Loop pieces = pieces_of(strands[in / 2]);
      if (in % 2 == 1) pieces = reversed(std::move(pieces));
      loop.insert(loop.end(), pieces.begin(), pieces.end());
    }
    loops.push_back(area_of(loop) < 0 ? reversed(std::move(loop)) : std::move(loop));
  }
  return loops;
}

/// An arc that all but closes on itself is a circle.
void round_off(std::vector<Strand>& strands, std::vector<End>& mate) {
  for (std::size_t i = 0; i < strands.size(); ++i) {
    if (strands[i].closed || mate[2 * i] != 2 * i + 1) continue;
    if (strands[i].is_arc()) {
      strands[i].closed = true;
    } else {
      const Vector2d x = strands[i].ends[0];
      throw MeshError("a single curve of the drawing closes on itself within " +
                      in_mm((x - strands[i].ends[1]).norm()) + " at " + in_plane(x) +
                      "; draw it closed, or in two parts");
    }
  }
}

std::string counted(int n, const std::string& what) {
  return std::to_string(n) + " " + what + (n == 1 ? "" : "s");
}

void tell(const LeftOut& left_out, const ClosedGaps& gaps, DrawnOutline& outline) {
  if (left_out.n_duplicates > 0)
    outline.facts.push_back(counted(left_out.n_duplicates, "curve") + " drawn twice and taken once");
  if (left_out.n_empty > 0)
    outline.facts.push_back(counted(left_out.n_empty, "curve") + " shorter than " +
                            in_mm(chaining_tolerance) + " left out");
  if (gaps.n > 0) {
    const std::string text =
        counted(gaps.n, "gap") + " closed, the largest " + in_mm(gaps.largest) + " at " + in_plane(gaps.at);
    outline.facts.push_back(text);
    outline.doubts.push_back(text + "; close it in the drawing");
  }
  int n_short = 0;
  Vector2d where(0, 0);
  const auto count = [&](const Loop& loop) {
    for (const auto& piece : loop) {
      if (length_of(piece) >= short_piece) continue;
      if (n_short++ == 0) where = piece.start;
    }
  };
  count(outline.outer);
  for (const auto& hole : outline.holes) count(hole);
  if (n_short == 0) return;
  const std::string text =
      counted(n_short, "piece") + " shorter than " + in_mm(short_piece) + ", the first at " + in_plane(where);
  outline.facts.push_back(text);
  outline.doubts.push_back(text + "; the mesh passes over them, draw the outline with fewer pieces");
}

}  // namespace

DrawnOutline chain_curves(const std::vector<PlaneCurve>& curves) {
  LeftOut left_out;
  std::vector<Strand> strands = strands_of(curves, left_out);
  if (strands.empty()) throw MeshError("no curve of the drawing can be an outline; draw a closed outline");
  std::vector<End> mate = join(strands);
  round_off(strands, mate);
  const ClosedGaps gaps = close_gaps(strands, mate);
  DrawnOutline outline = nest_loops(follow(strands, mate));
  tell(left_out, gaps, outline);
  return outline;
}

}  // namespace halftool::mesh
