"""The plan and the checks as a terminal shows them: any width, with or without colour."""
