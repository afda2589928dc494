//! Points in time with bounds between them, and the fewest bounds that say the same.

/// Nothing is known.
const FREE: i64 = i64::MAX / 4;

/// Points, and how far they may be apart, in whole minutes.
#[derive(Clone, Debug, Default)]
pub struct Net {
    points: usize,
    bounds: Vec<(usize, usize, i64)>,
}

/// All that is known of the distances in a net.
#[derive(Clone, Debug)]
pub struct Distances {
    points: usize,
    most: Vec<i64>,
}

/// `least <= to - from <= most`, either of them where it is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bound {
    /// From this point.
    pub from: usize,
    /// To that one.
    pub to: usize,
    /// At least so many minutes.
    pub least: i64,
    /// At most so many.
    pub most: Option<i64>,
}

impl Net {
    /// A new point.
    pub fn point(&mut self) -> usize {
        self.points += 1;
        self.points - 1
    }

    /// One point is so long after another, at least and at most.
    pub fn bound(&mut self, from: usize, to: usize, least: i64, most: Option<i64>) {
        self.bounds.push((to, from, -least));
        if let Some(most) = most {
            self.bounds.push((from, to, most));
        }
    }

    /// The shortest and longest distances that follow from all bounds together.
    pub fn distances(&self) -> Distances {
        let points = self.points;
        let mut most = vec![FREE; points * points];
        for point in 0..points {
            most[point * points + point] = 0;
        }
        for &(from, to, bound) in &self.bounds {
            let known = &mut most[from * points + to];
            *known = bound.min(*known);
        }
        for through in 0..points {
            for from in 0..points {
                let first = most[from * points + through];
                if first >= FREE {
                    continue;
                }
                for to in 0..points {
                    let second = most[through * points + to];
                    if second < FREE {
                        let known = &mut most[from * points + to];
                        *known = (*known).min(first + second);
                    }
                }
            }
        }
        Distances { points, most }
    }
}

impl Distances {
    /// Of the ends of tasks, by twice their number and one more for the last: tasks of these lengths,
    /// with these bounds from one end to another.
    pub fn of_tasks(
        lengths: impl Iterator<Item = (i32, i32)>,
        bounds: impl Iterator<Item = (usize, usize, i32, Option<i32>)>,
    ) -> Self {
        let mut net = Net::default();
        for (least, most) in lengths {
            let (from, to) = (net.point(), net.point());
            net.bound(from, to, least.into(), Some(most.into()));
        }
        for (from, to, least, most) in bounds {
            net.bound(from, to, least.into(), most.map(i64::from));
        }
        net.distances()
    }

    /// The most that one point is after another; none where it has no end.
    pub fn most(&self, from: usize, to: usize) -> Option<i64> {
        let known = self.most.get(from * self.points + to).copied()?;
        (known < FREE).then_some(known)
    }

    /// The least that one point is after another; none where nothing holds it.
    pub fn least(&self, from: usize, to: usize) -> Option<i64> {
        self.most(to, from).map(|most| -most)
    }

    /// Whether the bounds can hold together.
    #[cfg(test)]
    pub fn is_possible(&self) -> bool {
        (0..self.points).all(|point| self.most[point * self.points + point] >= 0)
    }

    /// How far two points are apart where that can't be chosen.
    pub fn fixed(&self, from: usize, to: usize) -> Option<i64> {
        self.most(from, to).filter(|most| self.least(from, to) == Some(*most))
    }

    /// The fewest bounds between leaders, no two of which are a fixed distance apart, from which
    /// all others follow.
    pub fn fewest(&self, leaders: &[usize]) -> Vec<Bound> {
        let is_needed = |from: usize, to: usize, most: i64| {
            let others = leaders.iter().filter(|&&it| it != from && it != to);
            !others.clone().any(|&through| {
                let way = self.most(from, through).zip(self.most(through, to));
                way.is_some_and(|(one, two)| one + two <= most)
            })
        };
        let needed =
            |from: usize, to: usize| self.most(from, to).filter(|most| is_needed(from, to, *most));
        let mut bounds = Vec::new();
        for (place, &one) in leaders.iter().enumerate() {
            for &two in leaders.iter().skip(place + 1) {
                // As time goes: the later point is the one that a bound leads to.
                let is_later = self.least(one, two).is_none_or(|least| least < 0)
                    && self.least(two, one).is_some_and(|least| least >= 0);
                let (from, to) = if is_later { (two, one) } else { (one, two) };
                match (needed(to, from), needed(from, to)) {
                    (Some(least), most) => bounds.push(Bound { from, to, least: -least, most }),
                    (None, Some(most)) => {
                        bounds.push(Bound { from: to, to: from, least: -most, most: None });
                    }
                    (None, None) => {}
                }
            }
        }
        bounds
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn chain(lengths: &[(i64, i64)]) -> (Net, Vec<usize>) {
        let mut net = Net::default();
        let mut points = vec![net.point()];
        for &(least, most) in lengths {
            let to = net.point();
            net.bound(points[points.len() - 1], to, least, Some(most));
            points.push(to);
        }
        (net, points)
    }

    #[test]
    fn a_chain_needs_its_links_and_nothing_else() {
        let (mut net, points) = chain(&[(10, 20), (5, 9), (60, 90)]);
        net.bound(points[0], points[3], 0, None);
        let bounds = net.distances().fewest(&points);
        let links: Vec<(usize, usize)> = bounds.iter().map(|it| (it.from, it.to)).collect();
        assert_eq!(links, [(0, 1), (1, 2), (2, 3)]);
        assert_eq!((bounds[2].least, bounds[2].most), (60, Some(90)));
    }

    #[test]
    fn points_that_are_left_out_are_summed_up() {
        let (net, points) = chain(&[(10, 20), (5, 9), (60, 90)]);
        let bounds = net.distances().fewest(&[points[0], points[3]]);
        assert_eq!(bounds, [Bound { from: 0, to: 3, least: 75, most: Some(119) }]);
    }

    /// All chosen bounds together say what the net says: for many nets drawn by a counter.
    #[test]
    fn the_fewest_bounds_say_as_much_as_all() {
        let mut seed: u64 = 7;
        let mut draw = |below: u64| {
            seed = seed
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            i64::try_from((seed >> 33) % below).expect("small")
        };
        let mut sound = 0;
        for _ in 0..200 {
            let mut net = Net::default();
            let points: Vec<usize> = (0..7).map(|_| net.point()).collect();
            for from in 0..6 {
                let (least, width) = (1 + draw(30), 1 + draw(40));
                net.bound(from, from + 1, least, Some(least + width));
                let to = from + 1 + usize::try_from(draw(6)).expect("small");
                if to < 7 {
                    net.bound(from, to, draw(40), Some(60 + draw(200)));
                }
            }
            let all = net.distances();
            if !all.is_possible() || (0..6).any(|it| all.fixed(it, it + 1).is_some()) {
                continue;
            }
            let is_free = |one: usize| (0..one).all(|two| all.fixed(one, two).is_none());
            if !points.iter().all(|&it| is_free(it)) {
                continue;
            }
            sound += 1;
            let mut few = Net::default();
            points.iter().for_each(|_| {
                few.point();
            });
            for it in all.fewest(&points) {
                few.bound(it.from, it.to, it.least, it.most);
            }
            assert_eq!(few.distances().most, all.most);
        }
        assert!(sound > 50, "{sound}");
    }
}
