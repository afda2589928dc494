//! What a day of a bakehouse is to a planner: plain numbers, and names to speak of them.

/// A minute of the day that is planned: 0 is its midnight, the evening before is negative.
pub type Minute = i32;

/// A day to be planned. Every number that names another part is its place in that part's list.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Puzzle {
    /// The first minute in which anything may be done, and the first in which nothing may.
    pub span: (Minute, Minute),
    /// What is to be done.
    pub tasks: Vec<Task>,
    /// How far apart starts and ends are.
    pub lags: Vec<Lag>,
    /// What there is a number of: hands, boards in the proofer or the refrigerator.
    pub pools: Vec<Pool>,
    /// Machines of which a task takes one for itself: mixers, decks.
    pub groups: Vec<MachineGroup>,
    /// What is done or left out as one: a batch of a product, a build of a stage.
    pub batches: Vec<Batch>,
    /// When what is wanted.
    pub dues: Vec<Due>,
    /// What the house prefers of days that are late alike.
    pub aim: Aim,
    /// A day that ends up to this minute ends early enough: an earlier end is worth nothing, where
    /// what is made would only stand longer. None where every minute counts.
    pub early: Option<Minute>,
    /// Starts that clocks should show plainly are multiples of so many minutes; 0 where any
    /// minute will do.
    pub grid: Minute,
}

/// Something that is done without a break.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Task {
    /// How it is called where a person reads of it.
    pub name: String,
    /// Whose it is.
    pub batch: usize,
    /// Its length: from, to. Both alike where it can't be chosen.
    pub length: (Minute, Minute),
    /// Not begun before; not ended after.
    pub window: (Minute, Minute),
    /// What it takes of pools for its whole length: the pool, and how much of it.
    pub takes: Vec<(usize, i32)>,
    /// The machine that it takes for its whole length.
    pub on: Option<On>,
    /// It is done or under way: it stays where it is, whatever else is wrong with that.
    pub fixed: Option<TaskPlace>,
    /// Where an earlier plan of the same day had it: it moves only if something is gained.
    pub before: Option<TaskPlace>,
    /// Its start is on the puzzle's grid. Of tasks that are a fixed time apart, one can be.
    pub on_grid: bool,
}

/// One machine of a group for a task.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct On {
    /// Which group.
    pub group: usize,
    /// The machines that will do, by their place in the group; never empty.
    pub machines: Vec<usize>,
    /// As what the machine is wanted at the start: an oven's heat, by its place in
    /// [`MachineGroup::changes`].
    pub enters: usize,
    /// As what it is left at the end.
    pub leaves: usize,
}

/// One end of a task.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Point {
    /// Its start.
    Start(usize),
    /// Its end.
    End(usize),
}

/// `least <= to - from <= most`. Between tasks of two batches it holds only when neither is
/// left out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Lag {
    /// From this point …
    pub from: Point,
    /// … to that one.
    pub to: Point,
    /// At least so many minutes.
    pub least: Minute,
    /// At most so many.
    pub most: Option<Minute>,
}

/// What there is a number of.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Pool {
    /// How it is called.
    pub name: String,
    /// From this minute on there are so many, until the next line; none before the first.
    /// In order of time.
    pub levels: Vec<(Minute, i32)>,
    /// People, whom [`Aim::LeastHands`] counts.
    pub is_hands: bool,
}

/// Machines that do the same things.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct MachineGroup {
    /// How they are called together.
    pub name: String,
    /// Each by itself.
    pub machines: Vec<Machine>,
    /// Minutes from each state to each other: `changes[from][to]`. Empty where nothing changes.
    pub changes: Vec<Vec<Minute>>,
    /// Ovens, whose changes [`Aim::FewestOvenChanges`] counts.
    pub is_oven: bool,
}

/// A machine of its own.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Machine {
    /// How it is called.
    pub name: String,
    /// When it can't be used: from, to.
    pub closed: Vec<(Minute, Minute)>,
    /// At this minute it is in this state: an oven's heat when hands come.
    pub begins: Option<(Minute, usize)>,
}

/// What is done as one or left out as one.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Batch {
    /// How it is called.
    pub name: String,
    /// A build that is done only for the batches that take it: those it has lags to. It is left
    /// out when they all are, and they can't be done without it.
    pub is_build: bool,
    /// What it weighs to leave it out (the pieces that are then missing); at least 1.
    pub weight: i64,
}

/// When something is wanted.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Due {
    /// The order it is of, for whoever reads: the planner only hands it back.
    pub order: usize,
    /// The end of this task counts.
    pub task: usize,
    /// Later than this is late.
    pub by: Minute,
    /// Never before this: it has to be fresh.
    pub after: Option<Minute>,
    /// What a minute late weighs.
    pub weight: i64,
}

/// What a house prefers of days that are late alike.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Aim {
    /// The last task ends as early as can be, as far as [`Puzzle::early`] asks for it.
    #[default]
    FinishEarly,
    /// As few people at a time as can be, then as few of their hours.
    LeastHands,
    /// Ovens change their heat as seldom as can be, then the last task ends early.
    FewestOvenChanges,
}

/// Where a task is.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct TaskPlace {
    /// Its first minute.
    pub start: Minute,
    /// The first minute after it.
    pub end: Minute,
    /// Its machine, by its place in the group; 0 where it needs none.
    pub machine: usize,
}

impl Point {
    /// Whose end it is.
    pub fn task(self) -> usize {
        match self {
            Self::Start(task) | Self::End(task) => task,
        }
    }

    /// Its place among all ends of tasks: twice its task's number, and one more for the end.
    pub fn number(self) -> usize {
        match self {
            Self::Start(task) => 2 * task,
            Self::End(task) => 2 * task + 1,
        }
    }

    /// When it is, where its task is placed so.
    pub fn of(self, place: TaskPlace) -> Minute {
        match self {
            Self::Start(_) => place.start,
            Self::End(_) => place.end,
        }
    }
}

impl Pool {
    /// How many there are at a minute.
    pub fn at(&self, minute: Minute) -> i32 {
        let begun = self.levels.iter().take_while(|(from, _)| *from <= minute);
        begun.last().map_or(0, |(_, many)| *many)
    }
}

impl Puzzle {
    /// What an end is worth: all that are early enough are alike.
    pub fn end_counted(&self, end: Minute) -> Minute {
        self.early.map_or(end, |early| end.max(early))
    }
}

impl MachineGroup {
    /// Minutes from one state to another.
    pub fn change(&self, from: usize, to: usize) -> Minute {
        self.changes.get(from).and_then(|row| row.get(to)).copied().unwrap_or(0)
    }
}
