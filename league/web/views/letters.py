"""Letters about a match: written, looked at, and sent when somebody presses send."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from league.operations.errors import RefusedError
from league.operations.letters import audiences, first_draft, look_at, send_letters
from league.web.access import for_officers, match_run_by
from league.web.context import at_club
from league.web.forms.captains import LetterForm
from league.web.forms.publish import slips


@for_officers
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def letters(request: HttpRequest, match_id: int) -> HttpResponse:
    """Write a letter; look at it as it would go; send it."""
    match = match_run_by(request.user, match_id)
    at_club(request, match.club)
    groups = {each.key: each for each in audiences(match)}
    choices = [
        (each.key, f"{each.words}: {len(each.addresses)} of {len(each.anglers)} have an address")
        for each in groups.values()
    ]
    if request.method != "POST":
        wanted = request.GET.get("to", "")
        key = wanted if wanted in groups else next(iter(groups), "")
        subject, text = first_draft(match, key)
        begun = {"audience": key, "subject": subject, "text": text}
        form = LetterForm(initial=begun, audiences=choices)
        return render(
            request, "captains/letter.html", {"match": match, "form": form, "groups": groups}
        )
    form = LetterForm(request.POST, audiences=choices)
    context: dict[str, object] = {"match": match, "form": form, "groups": groups}
    if not form.is_valid():
        return render(request, "captains/letter.html", context)
    to = groups[form.cleaned_data["audience"]]
    subject, text = form.cleaned_data["subject"], form.cleaned_data["text"]
    try:
        letter = look_at(match, to, subject, text, by=request.user)
        if request.POST.get("press") == "send":
            sent = send_letters(
                match,
                to,
                subject,
                text,
                by=request.user,
                address_of=lambda token: request.build_absolute_uri(
                    reverse("line-up", args=[token])
                ),
            )
            (messages.warning if sent.failed else messages.success)(request, sent.words)
            return redirect("match-run", match.pk)
    except RefusedError as refused:
        form.add_error(None, slips(refused))
        return render(request, "captains/letter.html", context)
    back = request.POST.get("press") == "change"
    page = "captains/letter.html" if back else "captains/letter_look.html"
    return render(request, page, context | {"letter": letter, "to": to})
