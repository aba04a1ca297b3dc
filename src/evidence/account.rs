//! The account of a cause: from how common it is, over its past and every piece of evidence in the
//! order in which it came, to how likely it is now.

use super::ledger::{Weight, leave_one_out, sequential};
use super::network::Evidence;
use super::weighed::Weighed;
use crate::handbook::CauseId;

/// One piece of evidence in an account.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// The places of the witnesses behind it.
    pub witnesses: Vec<usize>,
    /// What it changed when it came; these add up.
    pub when_it_came: Weight,
    /// What it weighs beside all the others; these don't add up.
    pub beside_the_others: Weight,
    /// The logarithm of the odds after it.
    pub balance: f64,
}

/// How a cause came to be as likely as it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Account {
    /// The logarithm of its odds before its past and any evidence; of one that a repair was made
    /// for, as it is now.
    pub prior: f64,
    /// What its past changed.
    pub history: Weight,
    /// The evidence, in the order in which it came.
    pub entries: Vec<Entry>,
}

/// The account of a cause being there now; none where the evidence contradicts itself.
#[must_use]
pub fn account(weighed: &Weighed, cause: CauseId) -> Option<Account> {
    let node = *weighed.now.nodes().get(cause.index())?;
    let network = weighed.epochs.network();
    let mut order: Vec<usize> = (0..weighed.pieces.len()).collect();
    let came = |piece: usize| {
        let witnesses = weighed.pieces[piece].witnesses.iter();
        witnesses.filter_map(|place| weighed.witnesses[*place].observed).max()
    };
    order.sort_by_key(|piece| came(*piece));
    let evidence: Vec<Evidence> =
        order.iter().map(|piece| weighed.evidence[*piece].clone()).collect();
    let in_order = sequential(network, &weighed.odds, &evidence).ok()?;
    let beside = leave_one_out(network, &weighed.odds, &evidence).ok()?;
    let entry = |(place, piece): (usize, &usize)| {
        Some(Entry {
            witnesses: weighed.pieces[*piece].witnesses.clone(),
            when_it_came: in_order.weight(place, node)?,
            beside_the_others: beside.weight(place, node)?,
            balance: in_order.balance.get(place + 1)?.get(node)?.nats(),
        })
    };
    Some(Account {
        prior: in_order.prior.get(node)?.nats(),
        history: *in_order.history.get(node)?,
        entries: order.iter().enumerate().filter_map(entry).collect(),
    })
}
