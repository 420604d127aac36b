//! The proof for a device that this shop has shut it out. Only with it does a device delete what the server has.

use std::cmp::Reverse;

use sha2::{Digest as _, Sha256};
use shared::sync::messages::{ShutOutProof, ShutOutQuestion, shut_out_text};

use super::Shop;
use super::pull::verified;
use crate::error::Error;
use crate::photos::Photos;
use crate::store::{LogTx, MemberTx, Store, TxMode};

impl<S: Store, P: Photos> Shop<S, P> {
    /// The proofs for a device that was shut out, one for each token that it was ever given. Who has none of these tokens
    /// learns nothing from them.
    ///
    /// # Errors
    /// [`Error::NotFound`] for a device that is unknown, has access, or has lost it in another way than by being shut out,
    /// and for a cursor that is none of this numbering: the server may not have what the device has read or pushed.
    pub async fn shut_out_proof(&self, question: &ShutOutQuestion) -> Result<ShutOutProof, Error> {
        let mut tx = self.begin(TxMode::Read).await?;
        let device = tx.device(question.device).await?;
        if device.is_none_or(|device| device.revoked.is_none()) {
            return Err(Error::NotFound);
        }
        let counter = tx.counter().await?;
        for cursor in [Some(question.cursor), question.pushed].into_iter().flatten() {
            let stands = verified(&mut tx, &counter, cursor).await;
            if matches!(stands, Err(Error::CursorLost)) {
                return Err(Error::NotFound);
            }
            stands?;
        }
        let mut tokens = tx.tokens_of(question.device).await?;
        tokens.sort_by_key(|(hash, token)| (Reverse(token.given), Reverse(token.revoked), hash.0));
        let text = shut_out_text(question, counter.shop);
        let proof = |token: [u8; 32]| Sha256::new().chain_update(token).chain_update(&text).finalize();
        Ok(ShutOutProof {
            proofs: tokens
                .iter()
                .map(|(hash, _)| hex::encode(proof(hash.0)))
                .collect(),
        })
    }
}
