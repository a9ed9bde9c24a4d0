"""What is printed: sheets to practise from, and pages at full size to lay on the cloth."""
