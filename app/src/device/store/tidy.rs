//! Moving what is closed from the tail into the archive, in the background.
