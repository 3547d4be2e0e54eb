//! What tells the entries of a list of tables apart.

use toml::de::DeTable;

use super::Field;

/// The keys that tell entries apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Identity {
    /// The key `name`.
    Name,
    /// The keys `from` and `to`, in the order in which they are written.
    Ends,
}

impl Identity {
    /// How entries with these keys are told apart; `None` where nothing does.
    pub fn of(fields: &[Field]) -> Option<Self> {
        let has = |key: &str| fields.iter().any(|field| field.key == key);
        match (has("name"), has("from") && has("to")) {
            (true, _) => Some(Self::Name),
            (false, true) => Some(Self::Ends),
            (false, false) => None,
        }
    }

    /// The keys.
    pub const fn keys(self) -> &'static [&'static str] {
        match self {
            Self::Name => &["name"],
            Self::Ends => &["from", "to"],
        }
    }

    /// What a table bears, in words; `None` where a key is absent or no text.
    pub fn read(self, table: &DeTable<'_>) -> Option<String> {
        let text = |key: &str| Some(table.get(key)?.get_ref().as_str()?.trim().to_owned());
        match self {
            Self::Name => text("name"),
            Self::Ends => Some(format!("from `{}` to `{}`", text("from")?, text("to")?)),
        }
    }

    /// What [`Identity::read`] gave, as a message shows it.
    pub fn told(self, borne: &str) -> String {
        match self {
            Self::Name => format!("`{borne}`"),
            Self::Ends => borne.to_owned(),
        }
    }

    /// The first key that a table lacks.
    pub fn lacking(self, table: &DeTable<'_>) -> Option<&'static str> {
        let mut keys = self.keys().iter().copied();
        keys.find(|key| !table.contains_key(*key))
    }

    /// Where a table bears it.
    pub fn span(self, table: &DeTable<'_>) -> Option<std::ops::Range<usize>> {
        let mut values = self.keys().iter().filter_map(|key| table.get(*key));
        Some(values.next_back()?.span())
    }
}

/// Keys that a new entry must have and a table lacks.
pub fn required(fields: &[Field], table: &DeTable<'_>) -> Vec<&'static str> {
    let must = fields
        .iter()
        .filter(|field| !field.optional && field.default.is_none());
    must.map(|field| field.key)
        .filter(|key| !table.contains_key(*key))
        .collect()
}
