//! Instruments.

use super::Resolver;
use crate::handbook::model::Instrument;

impl Resolver<'_> {
    pub(super) fn instruments(&mut self) {
        for raw in &self.raw.instruments {
            let origin = |part: &str| format!("instrument {} {part}", raw.id.value);
            let mut part = |name: &str, text: &Option<crate::document::Scalar>| {
                text.as_ref().and_then(|text| self.formula(&origin(name), text))
            };
            let (scale, offset, resolution) = (
                part("scale", &raw.scale),
                part("offset", &raw.offset),
                part("resolution", &raw.resolution),
            );
            let basis = self.basis("instrument", &raw.id, raw.basis.as_ref(), true);
            self.parts.instruments.push(Instrument {
                id: raw.id.value.clone(),
                name: raw.name.as_ref().map(|name| name.text.clone()).unwrap_or_default(),
                scale,
                offset,
                resolution,
                gas_response: raw.gas_response.as_ref().map(|text| text.text.clone()),
                basis,
            });
        }
    }
}
