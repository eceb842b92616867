//! Just enough of the language to find the paths in a source file: tokens without comments, strings
//! and tests; `use` trees spelt out; inline modules.

/// A piece of source text: a name, `::`, or one character.
pub type Token = String;

/// Cuts a text into tokens, without comments, strings and characters.
pub fn tokens(text: &str) -> Vec<Token> {
    let c: Vec<char> = text.chars().collect();
    let mut out = Vec::new();
    let mut i = 0;
    let word = |c: char| c.is_alphanumeric() || c == '_';
    while i < c.len() {
        let rest = |n: usize| c.get(i + n).copied().unwrap_or(' ');
        if c[i] == '/' && rest(1) == '/' {
            while i < c.len() && c[i] != '\n' {
                i += 1;
            }
        } else if c[i] == '/' && rest(1) == '*' {
            let mut depth = 0;
            while i < c.len() {
                match (c[i], c.get(i + 1)) {
                    ('/', Some('*')) => depth += 1,
                    ('*', Some('/')) => depth -= 1,
                    _ => {
                        i += 1;
                        continue;
                    }
                }
                i += 2;
                if depth == 0 {
                    break;
                }
            }
        } else if let Some(end) = raw_string(&c, i) {
            i = end;
        } else if c[i] == '"' {
            i += 1;
            while i < c.len() && c[i] != '"' {
                i += if c[i] == '\\' { 2 } else { 1 };
            }
            i += 1;
        } else if c[i] == '\'' && rest(1) == '\\' {
            i += 3;
            while i < c.len() && c[i] != '\'' {
                i += 1;
            }
            i += 1;
        } else if c[i] == '\'' && rest(2) == '\'' {
            i += 3;
        } else if word(c[i]) {
            let start = i;
            while i < c.len() && word(c[i]) {
                i += 1;
            }
            out.push(c[start..i].iter().collect());
        } else if c[i] == ':' && rest(1) == ':' {
            out.push("::".to_owned());
            i += 2;
        } else {
            if !c[i].is_whitespace() {
                out.push(c[i].to_string());
            }
            i += 1;
        }
    }
    out
}

/// End of a raw string that starts at `i` (`r"`, `r#"`, `br#"`), if one does.
fn raw_string(c: &[char], i: usize) -> Option<usize> {
    let mut at = i;
    if c[at] == 'b' {
        at += 1;
    }
    if c.get(at) != Some(&'r') || (i > 0 && (c[i - 1].is_alphanumeric() || c[i - 1] == '_')) {
        return None;
    }
    at += 1;
    let hashes = c[at..].iter().take_while(|c| **c == '#').count();
    at += hashes;
    if c.get(at) != Some(&'"') {
        return None;
    }
    at += 1;
    while at < c.len() {
        if c[at] == '"' && c[at + 1..].iter().take_while(|c| **c == '#').count() >= hashes {
            return Some(at + 1 + hashes);
        }
        at += 1;
    }
    Some(at)
}

/// Tokens without the items under `#[cfg(test)]`, and the names of the test modules that lie in
/// files of their own.
pub fn without_tests(all: &[Token]) -> (Vec<Token>, Vec<String>) {
    const MARK: [&str; 7] = ["#", "[", "cfg", "(", "test", ")", "]"];
    let (mut out, mut outside) = (Vec::new(), Vec::new());
    let mut i = 0;
    while i < all.len() {
        if !all[i..].iter().map(String::as_str).take(MARK.len()).eq(MARK) {
            out.push(all[i].clone());
            i += 1;
            continue;
        }
        i += MARK.len();
        let start = i;
        let mut depth = 0usize;
        while i < all.len() {
            match all[i].as_str() {
                "{" => depth += 1,
                "}" => depth = depth.saturating_sub(1),
                _ => {}
            }
            let ends = depth == 0 && matches!(all[i].as_str(), "}" | ";");
            i += 1;
            if ends {
                break;
            }
        }
        let item = &all[start..i];
        if let Some(at) = item.iter().position(|t| t == "mod")
            && item.get(at + 2).is_some_and(|t| t == ";")
        {
            outside.push(item[at + 1].clone());
        }
    }
    (out, outside)
}

/// Every path in the tokens, with groups `a::{b, c}` spelt out, and the inline modules around it.
pub fn paths(all: &[Token]) -> Vec<(Vec<String>, Vec<String>)> {
    let mut out = Vec::new();
    let mut inline: Vec<(String, usize)> = Vec::new();
    let mut depth = 0usize;
    let mut i = 0;
    let named = |t: &Token| t.chars().next().is_some_and(|c| c.is_alphabetic() || c == '_');
    while i < all.len() {
        match all[i].as_str() {
            "{" => depth += 1,
            "}" => {
                depth = depth.saturating_sub(1);
                inline.retain(|(_, at)| *at <= depth);
            }
            "mod" if all.get(i + 2).is_some_and(|t| t == "{") => {
                inline.push((all[i + 1].clone(), depth + 1))
            }
            "use" => {
                let mut at = i + 1;
                let mut found = Vec::new();
                tree(all, &mut at, &[], &mut found);
                let around: Vec<String> = inline.iter().map(|(name, _)| name.clone()).collect();
                out.extend(found.into_iter().map(|path| (path, around.clone())));
                i = at;
                continue;
            }
            _ if named(&all[i]) && all.get(i + 1).is_some_and(|t| t == "::") => {
                let mut path = vec![all[i].clone()];
                while all.get(i + 1).is_some_and(|t| t == "::")
                    && all.get(i + 2).is_some_and(&named)
                {
                    path.push(all[i + 2].clone());
                    i += 2;
                }
                out.push((path, inline.iter().map(|(name, _)| name.clone()).collect()));
            }
            _ => {}
        }
        i += 1;
    }
    out
}

/// One tree of a `use`, from `at` on.
fn tree(all: &[Token], at: &mut usize, before: &[String], out: &mut Vec<Vec<String>>) {
    let mut path = before.to_vec();
    while let Some(token) = all.get(*at) {
        match token.as_str() {
            "::" => *at += 1,
            "{" => {
                *at += 1;
                while all.get(*at).is_some_and(|t| t != "}") {
                    tree(all, at, &path, out);
                    if all.get(*at).is_some_and(|t| t == ",") {
                        *at += 1;
                    }
                }
                *at += 1;
                return;
            }
            "as" => *at += 2,
            "," | "}" | ";" => break,
            name => {
                if name != "self" || path.is_empty() {
                    path.push(name.to_owned());
                }
                *at += 1;
            }
        }
    }
    out.push(path);
}
