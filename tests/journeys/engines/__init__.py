"""The app in engines beside Chromium's: Gecko, and WebKit, the nearest thing here to an Apple phone."""
