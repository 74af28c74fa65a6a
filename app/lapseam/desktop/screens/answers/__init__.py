"""The Answers: whoever answers the phone asks every car's record, logs the call, and keeps what was promised."""
