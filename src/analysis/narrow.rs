//! Narrowing a region by how a condition was judged.

use super::cells::{AxisKind, Cells};
use super::conditions::Conditions;
use super::graph::{Part, PartId};
use super::region::{Held, Region};
use super::slot::SlotId;
use super::truths::Truths;

/// The most regions that one judgement falls into; beyond it they are left wider.
const MOST_REGIONS: usize = 16;

/// The most decisions in doubt that one draw is known to have met; see [`Region`].
const MOST_DECISIONS: u32 = 9;

/// The most slots and cells for which a condition of several slots narrows each of them.
const MOST_SLOTS: usize = 5;
const MOST_TRIED: u32 = 24;

/// How many parts of a condition are looked at before the rest is left wide.
const MOST_WORK: u32 = 600;

impl Conditions<'_> {
    /// The regions in which a condition comes to one of the truths wanted; none if it can't.
    pub fn narrowed(&self, region: &Region, condition: PartId, wanted: Truths) -> Vec<Region> {
        let mut work = Narrowing { conditions: self, left: MOST_WORK };
        let mut narrowed = work.part(vec![region.clone()], condition, wanted);
        self.tidy(&mut narrowed);
        let cases = narrowed.clone();
        for narrowed in &mut narrowed {
            for slot in self.doubtful_slots(condition) {
                self.place_draws(region, slot, narrowed, &cases, wanted);
            }
        }
        self.tidy(&mut narrowed);
        narrowed
    }

    /// Where the draws of a reading lie after a decision that falls into several cases: one draw
    /// lies in one case, but its neighbours may lie in another that agrees in all that is sure.
    fn place_draws(
        &self,
        before: &Region,
        slot: SlotId,
        narrowed: &mut Region,
        cases: &[Region],
        wanted: Truths,
    ) {
        let Some(held) = narrowed.get(slot) else { return };
        let before = before.get(slot);
        let draws = before.map_or_else(|| self.axis_of(slot).anything(), |before| before.draws);
        if wanted.has(Truths::UNKNOWN) {
            // It is enough that few draws are not known, so that nothing follows for the others.
            if held.cells.known().is_none() {
                return;
            }
            let known = before.map_or_else(|| self.axis_of(slot).known(), |b| b.cells.known());
            let decided = before.map_or(0, |before| before.decided);
            narrowed.hold(Held { cells: held.cells.with(known), draws, decided, ..held });
            return;
        }
        let beside = cases.iter().filter(|case| self.agree(narrowed, case));
        let reached = beside.map(|case| self.cells(case, slot)).fold(held.cells, Cells::with);
        narrowed.hold(Held { draws: draws.within(reached), ..held });
    }

    /// Whether two regions have something in common in all that is the same in every draw.
    fn agree(&self, a: &Region, b: &Region) -> bool {
        a.held().iter().all(|held| {
            let other = self.cells(b, held.slot);
            if self.is_doubtful(held.slot) {
                // Known or not known is the same in every draw.
                let kinds = |cells: Cells| (cells.has(Cells::UNKNOWN), !cells.known().is_none());
                let ((a, b), (x, y)) = (kinds(held.cells), kinds(other));
                return a && x || b && y;
            }
            !held.cells.within(other).is_none()
        })
    }

    /// The regions in which a condition may be too close to call: in some draws yes, in others
    /// no, and known in each.
    pub fn too_close(&self, region: &Region, condition: PartId) -> Vec<Region> {
        if !self.graph.node(condition).is_doubtful {
            return Vec::new();
        }
        let decided: Vec<Held> = self
            .doubtful_slots(condition)
            .filter_map(|slot| region.get(slot))
            .filter(|held| held.decided > 0)
            .collect();
        if decided.iter().map(|held| u32::from(held.decided)).sum::<u32>() < 2 {
            return self.close_within(region, region, condition);
        }
        // Each decision leaves out too few draws to make another close, but two need not. So a
        // single one has to refute it alone.
        let single = decided.iter().filter(|held| held.decided == 1).map(|held| Some(held.slot));
        let mut kept: Vec<Option<SlotId>> = single.collect();
        kept.push(None);
        let mut close = Vec::new();
        for kept in kept {
            let mut wide = region.clone();
            for held in decided.iter().filter(|held| Some(held.slot) != kept) {
                let known = self.axis_of(held.slot).known();
                wide.hold(Held { draws: held.draws.with(known), ..*held });
            }
            close = self.close_within(region, &wide, condition);
            if close.is_empty() {
                break;
            }
        }
        close
    }

    /// The same, with the draws of readings where `wide` has them.
    fn close_within(&self, region: &Region, wide: &Region, condition: PartId) -> Vec<Region> {
        let mut all_draws = wide.clone();
        for slot in self.doubtful_slots(condition) {
            if let Some(held) = wide.get(slot) {
                all_draws.hold(Held { cells: held.cells.with(held.draws.known()), ..held });
            }
        }
        let mut work = Narrowing { conditions: self, left: MOST_WORK };
        let yes = work.part(vec![all_draws.clone()], condition, Truths::YES);
        let no = work.part(vec![all_draws], condition, Truths::NO);
        let pairs = yes.iter().flat_map(|yes| no.iter().map(move |no| (yes, no)));
        let both = pairs.filter_map(|(yes, no)| self.both_ways(region, condition, yes, no));
        let mut close: Vec<Region> = both.collect();
        self.tidy(&mut close);
        close
    }

    /// A region in which one draw says yes and another says no.
    fn both_ways(
        &self,
        region: &Region,
        condition: PartId,
        yes: &Region,
        no: &Region,
    ) -> Option<Region> {
        let mut both = region.clone();
        for &slot in &self.graph.node(condition).slots {
            let (a, b) = (self.cells(yes, slot), self.cells(no, slot));
            let own = self.cells(region, slot);
            let mut cells = own.within(a).within(b);
            if self.is_doubtful(slot) && !a.known().is_none() && !b.known().is_none() {
                cells = cells.with(own.known());
            }
            if cells.is_none() {
                return None;
            }
            match region.get(slot) {
                Some(held) => both.hold(Held { cells, ..held }),
                None if cells != own => both.fill(slot, cells),
                None => {}
            }
        }
        Some(both)
    }

    fn doubtful_slots(&self, condition: PartId) -> impl Iterator<Item = SlotId> + '_ {
        let slots = self.graph.node(condition).slots.iter().copied();
        slots.filter(|slot| self.is_doubtful(*slot))
    }

    /// Whether draws of one answer may lie in several cells.
    fn is_doubtful(&self, slot: SlotId) -> bool {
        matches!(self.axis_of(slot).kind, AxisKind::Quantity | AxisKind::Whole)
    }

    /// Drops regions that say nothing new, and joins what is more than are followed one by one.
    pub fn tidy(&self, regions: &mut Vec<Region>) {
        drop_those_within_others(regions);
        if regions.len() > MOST_REGIONS {
            self.was_joined.set(true);
            let rest = regions.split_off(MOST_REGIONS);
            let last = &mut regions[MOST_REGIONS - 1];
            *last = rest.iter().fold(last.clone(), |sofar, region| sofar.joined(region));
        }
    }
}

struct Narrowing<'a, 'h> {
    conditions: &'a Conditions<'h>,
    left: u32,
}

impl Narrowing<'_, '_> {
    /// The regions of some in which a part comes to one of the truths wanted.
    fn part(&mut self, regions: Vec<Region>, part: PartId, wanted: Truths) -> Vec<Region> {
        if wanted == Truths::ALL || regions.is_empty() {
            return regions;
        }
        if wanted.is_empty() {
            return Vec::new();
        }
        let mut found = Vec::new();
        for region in regions {
            if self.left == 0 {
                self.conditions.was_joined.set(true);
                found.push(region);
                continue;
            }
            self.left -= 1;
            found.extend(self.one(region, part, wanted));
        }
        if found.len() > 1 {
            self.conditions.tidy(&mut found);
        }
        found
    }

    fn one(&mut self, region: Region, part: PartId, wanted: Truths) -> Vec<Region> {
        let conditions = self.conditions;
        if let Some((slot, table)) = conditions.table(part, region.has_acted) {
            let wide = table.cells(wanted);
            let is_doubtful = conditions.graph.node(part).is_doubtful;
            return self.held_to(region, slot, wide, is_doubtful).into_iter().collect();
        }
        if !conditions.truths(part, &region).has(wanted) {
            return Vec::new();
        }
        match &conditions.graph.node(part).part {
            Part::Not(inner) => self.part(vec![region], *inner, wanted.turned()),
            Part::And(parts) => self.all(region, parts, wanted),
            Part::Or(parts) => self.any(region, parts, wanted),
            Part::If(parts) => self.either(&region, *parts, wanted),
            Part::Finding { applies, test } => {
                let lags = conditions.graph.node(part).may_lag && region.has_acted;
                match applies {
                    Some(applies) if !lags => self.finding(&region, *applies, *test, wanted),
                    // What was before an action may have been otherwise.
                    Some(_) if wanted.has(Truths::UNKNOWN) => vec![region],
                    _ => self.part(vec![region], *test, wanted),
                }
            }
            _ => self.by_trying(region, part, wanted),
        }
    }

    /// `a and b and c`: case by case, the first that is no, the first that is not known.
    fn all(&mut self, region: Region, parts: &[PartId], wanted: Truths) -> Vec<Region> {
        let mut found = Vec::new();
        let (mut all_yes, mut some_unknown) = (vec![region], Vec::new());
        let not_no = Truths::YES.and_those_of(Truths::UNKNOWN);
        for part in parts {
            if wanted.has(Truths::NO) {
                found.extend(self.part(all_yes.clone(), *part, Truths::NO));
                found.extend(self.part(some_unknown.clone(), *part, Truths::NO));
            }
            some_unknown = self.part(some_unknown, *part, not_no);
            some_unknown.extend(self.part(all_yes.clone(), *part, Truths::UNKNOWN));
            all_yes = self.part(all_yes, *part, Truths::YES);
        }
        if wanted.has(Truths::YES) {
            found.extend(all_yes);
        }
        if wanted.has(Truths::UNKNOWN) {
            found.extend(some_unknown);
        }
        found
    }

    /// `a or b or c`, the same with yes and no turned round.
    fn any(&mut self, region: Region, parts: &[PartId], wanted: Truths) -> Vec<Region> {
        let mut found = Vec::new();
        let (mut all_no, mut some_unknown) = (vec![region], Vec::new());
        let not_yes = Truths::NO.and_those_of(Truths::UNKNOWN);
        for part in parts {
            if wanted.has(Truths::YES) {
                found.extend(self.part(all_no.clone(), *part, Truths::YES));
                found.extend(self.part(some_unknown.clone(), *part, Truths::YES));
            }
            some_unknown = self.part(some_unknown, *part, not_yes);
            some_unknown.extend(self.part(all_no.clone(), *part, Truths::UNKNOWN));
            all_no = self.part(all_no, *part, Truths::NO);
        }
        if wanted.has(Truths::NO) {
            found.extend(all_no);
        }
        if wanted.has(Truths::UNKNOWN) {
            found.extend(some_unknown);
        }
        found
    }

    fn either(&mut self, region: &Region, parts: [PartId; 3], wanted: Truths) -> Vec<Region> {
        let [condition, then, otherwise] = parts;
        let yes = self.part(vec![region.clone()], condition, Truths::YES);
        let no = self.part(vec![region.clone()], condition, Truths::NO);
        let mut found = self.part(yes, then, wanted);
        found.extend(self.part(no, otherwise, wanted));
        if wanted.has(Truths::UNKNOWN) {
            found.extend(self.part(vec![region.clone()], condition, Truths::UNKNOWN));
        }
        found
    }

    /// A finding comes to what it tests where it applies, and is not known otherwise.
    fn finding(
        &mut self,
        region: &Region,
        applies: PartId,
        test: PartId,
        wanted: Truths,
    ) -> Vec<Region> {
        let whole = vec![region.clone()];
        let applying = self.part(whole.clone(), applies, Truths::YES);
        let mut found = self.part(applying, test, wanted);
        if wanted.has(Truths::UNKNOWN) {
            let barred = Truths::NO.and_those_of(Truths::UNKNOWN);
            found.extend(self.part(whole, applies, barred));
            // Too close to say whether it applies: nothing is known of any one draw.
            found.extend(self.conditions.too_close(region, applies));
        }
        found
    }

    /// A condition of several slots: a cell goes if the condition can't come out as wanted in it.
    fn by_trying(&mut self, mut region: Region, part: PartId, wanted: Truths) -> Vec<Region> {
        let node = self.conditions.graph.node(part);
        if node.slots.len() > MOST_SLOTS {
            return vec![region];
        }
        for &slot in &node.slots {
            let cells = self.conditions.cells(&region, slot);
            if cells.count() < 2 || cells.count() > MOST_TRIED {
                continue;
            }
            let mut fitting = Cells::NONE;
            for cell in cells.each() {
                let mut tried = region.clone();
                tried.fill(slot, cell);
                if self.conditions.truths(part, &tried).has(wanted) {
                    fitting = fitting.with(cell);
                }
            }
            if wanted.has(Truths::UNKNOWN) && node.is_doubtful && !fitting.known().is_none() {
                fitting = fitting.with(cells.known());
            }
            match self.held_to(region, slot, fitting, node.is_doubtful) {
                Some(narrowed) => region = narrowed,
                None => return Vec::new(),
            }
        }
        vec![region]
    }

    /// A region with one slot held to some cells.
    fn held_to(
        &self,
        mut region: Region,
        slot: SlotId,
        wide: Cells,
        is_doubtful: bool,
    ) -> Option<Region> {
        let before = self.conditions.cells(&region, slot);
        let cells = before.within(wide);
        let decided = region.get(slot).map_or(0, |held| held.decided);
        let loses_draws = is_doubtful && cells.known() != before.known();
        if loses_draws && region.decisions() >= MOST_DECISIONS {
            // No draw need have met all of these decisions any more.
            return (!wide.is_none()).then_some(region);
        }
        if cells.is_none() {
            return None;
        }
        if cells != before {
            let draws = region.get(slot).map_or(before, |held| held.draws);
            let decided = decided + u8::from(loses_draws);
            region.hold(Held { slot, cells, draws, decided });
        }
        Some(region)
    }
}

/// Drops regions that say nothing which another does not.
fn drop_those_within_others(regions: &mut Vec<Region>) {
    let mut kept: Vec<Region> = Vec::new();
    for region in regions.drain(..) {
        if kept.iter().any(|other| region.lies_within(other)) {
            continue;
        }
        kept.retain(|other| !other.lies_within(&region));
        match kept.iter().position(|other| other.joins_exactly(&region)) {
            Some(place) => kept[place] = kept[place].joined(&region),
            None => kept.push(region),
        }
    }
    *regions = kept;
}
