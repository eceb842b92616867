//! Files of the corpus, read; and files broken at random.

mod corpus;
mod folding;
mod mutation;
mod reading;
