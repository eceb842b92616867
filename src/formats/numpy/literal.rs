//! The literals of an NPY header: texts, whole numbers, truth values, tuples, lists, dictionaries
//! (Python Language Reference, section 2.6 "Literals" and 6.2 "Atoms"; the part that headers use).

/// Lists in lists deeper than this are refused.
const MAX_DEPTH: usize = 16;

/// A value as written.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Literal {
    Text(String),
    Number(u64),
    Truth(bool),
    Nothing,
    /// A tuple or a list.
    Items(Vec<Literal>),
    Entries(Vec<(Literal, Literal)>),
}

impl Literal {
    /// The value of a key of a dictionary.
    pub(super) fn entry(&self, name: &str) -> Option<&Self> {
        let Self::Entries(entries) = self else { return None };
        entries.iter().find(|(key, _)| matches!(key, Self::Text(t) if t == name)).map(|(_, v)| v)
    }
}

/// Reads one literal; `None` where the text is none or goes on after it.
pub(super) fn parse(text: &str) -> Option<Literal> {
    let mut reader = Reader { rest: text };
    let literal = reader.literal(0)?;
    reader.blanks();
    reader.rest.is_empty().then_some(literal)
}

struct Reader<'a> {
    rest: &'a str,
}

impl Reader<'_> {
    fn blanks(&mut self) {
        self.rest = self.rest.trim_start();
    }

    /// Takes a mark if it comes next.
    fn takes(&mut self, mark: &str) -> bool {
        self.blanks();
        match self.rest.strip_prefix(mark) {
            Some(rest) => {
                self.rest = rest;
                true
            }
            None => false,
        }
    }

    fn literal(&mut self, depth: usize) -> Option<Literal> {
        if depth > MAX_DEPTH {
            return None;
        }
        self.blanks();
        for (word, value) in [
            ("True", Literal::Truth(true)),
            ("False", Literal::Truth(false)),
            ("None", Literal::Nothing),
        ] {
            if self.takes(word) {
                return Some(value);
            }
        }
        let first = self.rest.chars().next()?;
        match first {
            '(' => self.items(')', depth),
            '[' => self.items(']', depth),
            '{' => self.entries(depth),
            '0'..='9' => self.number(),
            _ => self.text(),
        }
    }

    fn items(&mut self, close: char, depth: usize) -> Option<Literal> {
        self.rest = self.rest.get(1..)?;
        let close = close.to_string();
        let mut items = Vec::new();
        while !self.takes(&close) {
            items.push(self.literal(depth + 1)?);
            if !self.takes(",") {
                // (3) is a number in parentheses; headers of old writers do not hold it either.
                return self.takes(&close).then_some(Literal::Items(items));
            }
        }
        Some(Literal::Items(items))
    }

    fn entries(&mut self, depth: usize) -> Option<Literal> {
        self.rest = self.rest.get(1..)?;
        let mut entries = Vec::new();
        while !self.takes("}") {
            let key = self.literal(depth + 1)?;
            if !self.takes(":") {
                return None;
            }
            entries.push((key, self.literal(depth + 1)?));
            if !self.takes(",") {
                return self.takes("}").then_some(Literal::Entries(entries));
            }
        }
        Some(Literal::Entries(entries))
    }

    /// A whole number; the `L` of long integers of Python 2 is read over.
    fn number(&mut self) -> Option<Literal> {
        let end = self.rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(self.rest.len());
        let (digits, rest) = self.rest.split_at_checked(end)?;
        self.rest = rest.strip_prefix('L').unwrap_or(rest);
        digits.parse().ok().map(Literal::Number)
    }

    fn text(&mut self) -> Option<Literal> {
        let bare = self.rest.trim_start_matches(['u', 'b', 'U', 'B']);
        let mut chars = bare.chars();
        let quote = chars.next().filter(|c| matches!(c, '\'' | '"'))?;
        let mut text = String::new();
        loop {
            match chars.next()? {
                '\\' => text.push(chars.next()?),
                c if c == quote => break,
                c => text.push(c),
            }
        }
        self.rest = chars.as_str();
        Some(Literal::Text(text))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Headers as in the documentation of the format (`numpy.lib.format`).
    #[test]
    fn headers() {
        let header =
            parse("{'descr': '<f8', 'fortran_order': False, 'shape': (3, 4), }   \n").unwrap();
        assert_eq!(header.entry("descr"), Some(&Literal::Text("<f8".to_owned())));
        assert_eq!(header.entry("fortran_order"), Some(&Literal::Truth(false)));
        let shape = Literal::Items(vec![Literal::Number(3), Literal::Number(4)]);
        assert_eq!(header.entry("shape"), Some(&shape));
        let old = parse(r#"{"shape":(5L,),'descr':[(u'a\'b','|O')], 'x':()}"#).unwrap();
        assert_eq!(old.entry("shape"), Some(&Literal::Items(vec![Literal::Number(5)])));
        assert_eq!(old.entry("x"), Some(&Literal::Items(vec![])));
        assert!(matches!(old.entry("descr"), Some(Literal::Items(_))));
    }

    #[test]
    fn what_is_no_literal() {
        for text in
            ["", "{", "{'a' 1}", "(1", "(1 2)", "'a", "'a\\", "{'a': 1} 2", "-1", "1.5", "x", ","]
        {
            assert_eq!(parse(text), None, "{text}");
        }
        assert_eq!(parse(&"(".repeat(100_000)), None);
        assert_eq!(parse("99999999999999999999999"), None);
    }
}
