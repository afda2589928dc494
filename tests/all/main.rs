//! All tests that go through the public face, one binary.

mod absence;
mod asked;
mod bad_input;
mod claims;
mod command;
mod derivations;
mod documents;
mod findings;
mod forms;
mod house;
mod layout;

mod mutations;
mod notation;
mod numbers;
mod pages;
mod paper;
mod plans;
mod planted;
mod prints;
mod properties;
mod repairs;
mod retimed;
mod rooms;
mod sound;
mod sums;
mod support;
mod texts;
mod time;
mod water;
