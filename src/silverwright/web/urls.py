"""Addresses."""

from django.urls import path

from silverwright.web import frame
from silverwright.web.pages import ask

urlpatterns = [
    path("ask", ask.questions, name="ask"),
    path("ask/<str:name>", ask.question, name="question"),
    path("theme", frame.theme, name="theme"),
]

handler400 = "silverwright.web.pages.wrong.bad_request"
handler403 = "silverwright.web.pages.wrong.forbidden"
handler404 = "silverwright.web.pages.wrong.not_found"
handler500 = "silverwright.web.pages.wrong.broken"
