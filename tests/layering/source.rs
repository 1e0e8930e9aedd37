//! Rust text as tokens: just enough to see paths, macros and test items, without comments and literals.

/// A word, `::`, or a single character, and the line it stands on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Token {
    pub text: String,
    pub line: usize,
}

/// What to take out of the text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Blank {
    Comments,
    CommentsAndLiterals,
}

/// The text with comments (and literals, if asked) replaced by spaces; line breaks stay.
pub fn blanked(text: &str, what: Blank) -> String {
    let c: Vec<char> = text.chars().collect();
    let mut out = String::with_capacity(text.len());
    let mut i = 0;
    while i < c.len() {
        let (end, literal) = skip(&c, i);
        if end == i {
            out.push(c[i]);
            i += 1;
        } else if literal && what == Blank::Comments {
            out.extend(&c[i..end]);
            i = end;
        } else {
            out.extend(c[i..end].iter().map(|ch| if *ch == '\n' { '\n' } else { ' ' }));
            i = end;
        }
    }
    out
}

/// The end of the comment or literal that begins at `i` (or `i` if none does), and whether it is a literal.
fn skip(c: &[char], i: usize) -> (usize, bool) {
    let at = |k: usize| c.get(k).copied().unwrap_or(' ');
    let word_before = i > 0 && is_word(c[i - 1]);
    match at(i) {
        '/' if at(i + 1) == '/' => (c[i..].iter().position(|ch| *ch == '\n').map_or(c.len(), |n| i + n), false),
        '/' if at(i + 1) == '*' => {
            let (mut depth, mut k) = (1, i + 2);
            while k < c.len() && depth > 0 {
                match (c[k], at(k + 1)) {
                    ('/', '*') => (depth, k) = (depth + 1, k + 2),
                    ('*', '/') => (depth, k) = (depth - 1, k + 2),
                    _ => k += 1,
                }
            }
            (k, false)
        }
        'r' | 'b' if !word_before => {
            let mut k = i + 1;
            if at(i) == 'b' && at(k) == 'r' {
                k += 1;
            }
            let raw = at(k - 1) == 'r';
            let hashes = c[k..].iter().take_while(|ch| **ch == '#').count();
            match at(k + hashes) {
                '"' if raw => (raw_end(c, k + hashes + 1, hashes), true),
                '"' if hashes == 0 => (quoted_end(c, k + 1, '"'), true),
                '\'' if hashes == 0 && !raw => (quoted_end(c, k + 1, '\''), true),
                _ => (i, false),
            }
        }
        '"' => (quoted_end(c, i + 1, '"'), true),
        // A lifetime has no closing quote right after its first letter.
        '\'' if at(i + 1) == '\\' || at(i + 2) == '\'' => (quoted_end(c, i + 1, '\''), true),
        _ => (i, false),
    }
}

fn quoted_end(c: &[char], mut k: usize, quote: char) -> usize {
    while k < c.len() && c[k] != quote {
        k += if c[k] == '\\' { 2 } else { 1 };
    }
    (k + 1).min(c.len())
}

fn raw_end(c: &[char], from: usize, hashes: usize) -> usize {
    let closes = |k: usize| c[k] == '"' && c.len() > k + hashes && c[k + 1..=k + hashes].iter().all(|ch| *ch == '#');
    (from..c.len()).find(|k| closes(*k)).map_or(c.len(), |k| k + hashes + 1)
}

fn is_word(ch: char) -> bool {
    ch.is_alphanumeric() || ch == '_'
}

/// The tokens of Rust text.
pub fn tokens(text: &str) -> Vec<Token> {
    let mut tokens = Vec::new();
    for (line, row) in blanked(text, Blank::CommentsAndLiterals).lines().enumerate() {
        let mut rest = row.trim_start();
        while let Some(first) = rest.chars().next() {
            let length = if is_word(first) {
                rest.find(|ch| !is_word(ch)).unwrap_or(rest.len())
            } else if rest.starts_with("::") {
                2
            } else {
                first.len_utf8()
            };
            tokens.push(Token { text: rest[..length].to_owned(), line: line + 1 });
            rest = rest[length..].trim_start();
        }
    }
    tokens
}

/// Lines that hold code.
pub fn code_lines(text: &str) -> usize {
    blanked(text, Blank::Comments).lines().filter(|line| !line.trim().is_empty()).count()
}

/// True if the words `pattern` stand at `i`.
fn stands(tokens: &[Token], i: usize, pattern: &[&str]) -> bool {
    pattern.iter().enumerate().all(|(k, word)| tokens.get(i + k).is_some_and(|t| t.text == *word))
}

/// The tokens without items under `#[cfg(test)]`, and the names of modules in other files that are such items.
pub fn without_tests(tokens: &[Token]) -> (Vec<Token>, Vec<String>) {
    let mut kept = Vec::new();
    let mut files = Vec::new();
    let mut i = 0;
    while i < tokens.len() {
        if !stands(tokens, i, &["#", "[", "cfg", "(", "test", ")", "]"]) {
            kept.push(tokens[i].clone());
            i += 1;
            continue;
        }
        i += 7;
        if tokens.get(i).is_some_and(|t| t.text == "mod") && stands(tokens, i + 2, &[";"]) {
            files.push(tokens[i + 1].text.clone());
        }
        // The item ends with its first block, or with a semicolon before any block.
        let mut depth = 0;
        while i < tokens.len() {
            match tokens[i].text.as_str() {
                "{" => depth += 1,
                "}" => depth -= 1,
                _ => {}
            }
            let end = depth == 0 && matches!(tokens[i].text.as_str(), "}" | ";");
            i += 1;
            if end {
                break;
            }
        }
    }
    (kept, files)
}

/// Names directly under the crate root that the text refers to by `crate::` or by enough `super::`, with their lines.
/// `module` is the path of the file's module.
pub fn root_names(tokens: &[Token], module: &[String]) -> Vec<(String, usize)> {
    let mut names = Vec::new();
    // One entry per open brace: true where it opens an inline module.
    let mut braces = Vec::new();
    let mut i = 0;
    while i < tokens.len() {
        let start = i;
        match tokens[i].text.as_str() {
            "{" => braces.push(i >= 2 && tokens[i - 2].text == "mod"),
            "}" => drop(braces.pop()),
            "crate" | "super" => {
                let depth = module.len() + braces.iter().filter(|inline| **inline).count();
                let mut above = if tokens[i].text == "crate" { depth } else { 1 };
                while stands(tokens, i + 1, &["::", "super"]) {
                    above += 1;
                    i += 2;
                }
                if above >= depth && stands(tokens, i + 1, &["::"]) {
                    names.extend(after(tokens, i + 2));
                }
            }
            _ => {}
        }
        i = i.max(start) + 1;
    }
    names
}

/// The name at `i`, or the first names of the group that opens there.
fn after(tokens: &[Token], i: usize) -> Vec<(String, usize)> {
    let Some(first) = tokens.get(i) else { return Vec::new() };
    if first.text != "{" {
        return vec![(first.text.clone(), first.line)];
    }
    let mut names = Vec::new();
    let mut depth = 0;
    for (k, token) in tokens.iter().enumerate().skip(i) {
        match token.text.as_str() {
            "{" => depth += 1,
            "}" => depth -= 1,
            _ if depth == 1 && matches!(tokens[k - 1].text.as_str(), "{" | ",") => {
                names.push((token.text.clone(), token.line));
            }
            _ => {}
        }
        if depth == 0 {
            break;
        }
    }
    names
}

/// Names that `lib.rs` re-exports, with the module each comes from.
pub fn exports(lib: &[Token]) -> Vec<(String, String)> {
    let mut exports = Vec::new();
    for i in 0..lib.len() {
        if !stands(lib, i, &["pub", "use"]) {
            continue;
        }
        let names = lib[i + 3..].iter().take_while(|t| t.text != ";");
        let words = names.filter(|t| t.text.starts_with(|ch: char| ch.is_alphabetic()));
        exports.extend(words.map(|t| (t.text.clone(), lib[i + 2].text.clone())));
    }
    exports
}

/// Lines with one of these macros called.
pub fn macro_calls(tokens: &[Token], macros: &[&str]) -> Vec<(String, usize)> {
    let called = |w: &[Token]| macros.contains(&w[0].text.as_str()) && w[1].text == "!";
    tokens.windows(2).filter(|w| called(w)).map(|w| (w[0].text.clone(), w[0].line)).collect()
}

/// Lines with one of these methods called.
pub fn method_calls(tokens: &[Token], methods: &[&str]) -> Vec<(String, usize)> {
    let called = |w: &[Token]| w[0].text == "." && methods.contains(&w[1].text.as_str()) && w[2].text == "(";
    tokens.windows(3).filter(|w| called(w)).map(|w| (w[1].text.clone(), w[1].line)).collect()
}

/// Words of plain text, a hyphen counting as part of a word.
pub fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|ch: char| !is_word(ch) && ch != '-').filter(|word| !word.is_empty())
}
