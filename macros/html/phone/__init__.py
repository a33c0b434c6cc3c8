"""The manual on a phone without a network: the site that is installed, and the manual as one file.

Neither is asked of a server that knows more than to give files: what is kept where, and when a new issue is taken, is
decided in `worker.js`, `theme/assets/installed.js` and `shell.js`, which are ours whole.
"""
