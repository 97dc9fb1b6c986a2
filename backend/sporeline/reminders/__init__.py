"""What is due for whom, told at their own hour, and shown in a calendar."""

from sporeline.reminders.push import Subscription
from sporeline.reminders.service import Reminders, build

__all__ = ["Reminders", "Subscription", "build"]
