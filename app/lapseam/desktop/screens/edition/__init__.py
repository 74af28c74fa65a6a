"""The Edition: the order of the photos, their captions, what a buyer sees on a phone, what goes out, and publishing."""
