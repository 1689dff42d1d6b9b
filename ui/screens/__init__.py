"""The pages of the app, one script each; `ui/app.py` leads from one to the other."""
