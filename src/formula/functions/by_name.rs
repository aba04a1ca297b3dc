//! A function within what is packed: by its name.

use serde::de::Error;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::{Function, find_function};

pub fn serialize<S: Serializer>(function: &Function, to: S) -> Result<S::Ok, S::Error> {
    function.name.serialize(to)
}

pub fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<&'static Function, D::Error> {
    let name = <&str>::deserialize(from)?;
    find_function(name).ok_or_else(|| D::Error::custom(format!("`{name}` is no function")))
}
