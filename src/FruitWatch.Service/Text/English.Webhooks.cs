using FruitWatch.Service.Webhooks;
using FruitWatch.Store;
using FruitWatch.Store.Entities;

namespace FruitWatch.Service.Text;

internal sealed partial class English
{
    public override string WebhooksTitle => "Webhooks";

    public override string WebhooksLead => "Addresses of programs that are told when something happens here. Each message is signed; it holds keys, and what they stand for is read over the API.";

    public override string WebhooksNone => "No program is told anything yet.";

    public override string WebhooksNew => "Add a webhook";

    public override string WebhooksName => "Name";

    public override string WebhooksAddress => "Address";

    public override string WebhooksAddressSaid => "Begins with https:// and is reached on the open internet.";

    public override string WebhooksEvents => "Tell it when";

    public override string WebhooksAdd => "Add";

    public override string WebhooksSave => "Save";

    public override string WebhooksActive => "It is told things";

    public override string WebhooksOff => "off";

    public override string WebhooksOn => "on";

    public override string WebhooksFull => "There are 20 webhooks, which is all there can be. Delete one first.";

    public override string WebhooksSecret => "Its secret";

    public override string WebhooksSecretOnce => "Copy it now: it is not shown again. The receiver needs it to see that a message is from here.";

    public override string WebhooksRotate => "Make a new secret";

    public override string WebhooksRotateSaid => "For 24 hours messages are signed with both, the new one and the one before.";

    public override string WebhooksTest => "Send a test";

    public override string WebhooksTested => "A test is on its way. It shows below within a minute.";

    public override string WebhooksNotTested => "No test was sent: the webhook is off, or the last test still waits.";

    public override string WebhooksDelete => "Delete this webhook";

    public override string WebhooksDeleted => "The webhook is deleted.";

    public override string WebhooksSaved => "Saved.";

    public override string WebhooksResend => "Send again";

    public override string WebhooksResent => "It is sent again, under the same identifier.";

    public override string WebhooksNotResent => "It cannot be sent again: the webhook is off, the message is on its way, or it is older than 30 days.";

    public override string WebhooksDeliveries => "Messages";

    public override string WebhooksNoDeliveries => "Nothing has been sent to it yet.";

    public override string WebhooksBody => "What was sent";

    public override string WebhooksBodyGone => "What was sent is kept for 30 days.";

    public override string WebhooksChange => "Change it";

    public override string WebhooksGiveName => "Give it a name of up to 80 characters.";

    public override string WebhooksGiveEvents => "Choose at least one thing to tell.";

    public override string WebhooksNotTaken => "Nothing was changed:";

    public override string WebhooksMade => "Made";

    public override string WebhooksOpen => "Open the webhook";

    public override string WebhooksStoppedToDo => "What was waiting is listed as failed and can be sent again. Correct the address or the program, and switch the webhook on again.";

    public override string WebhooksFailingSince(string when) => $"Nothing arrives since {when}.";

    public override string WebhooksBothUntil(string when) => $"Signed with the secret before, too, until {when}.";

    public override string WebhooksAttempts(int count) => count == 1 ? "1 attempt" : $"{Number(count)} attempts";

    public override string WebhooksNextTry(string when) => $"tried again {when}";

    public override string WebhooksStoppedSubject(string name) => $"The webhook {name} was stopped";

    public override string WebhooksWhyYou(string cooperative) => $"You get this because you coordinate {cooperative}.";

    public override string WebhooksStoppedWhy(string why) => why == WebhookStopping.Gone
        ? "Its receiver answered that it wants no more messages (410), so nothing is sent to it any more."
        : "Nothing has arrived for five days, so nothing is sent to it any more.";

    public override string NameOf(DeliveryState state) => state switch
    {
        DeliveryState.Pending => "waiting",
        DeliveryState.Sending => "on its way",
        DeliveryState.Delivered => "arrived",
        _ => "failed",
    };

    public override string Explain(AddressRefusal wrong) => wrong switch
    {
        AddressRefusal.NotHttps => "Begin the address with https://.",
        AddressRefusal.TooMuchInIt => "Leave out user name, password and the part behind #.",
        AddressRefusal.NotPublic => "The address is not on the open internet. One on the own network is for the operator to allow.",
        AddressRefusal.OtherPort => "Leave the port out, or have the operator allow it by host and port.",
        _ => "Write an address such as https://example.org/hook, of up to 500 characters.",
    };

    public override string WebhooksEvent(string name) => name switch
    {
        WebhookEvents.NoticeOpened => "a notice opens",
        WebhookEvents.NoticeChanged => "a notice changes",
        WebhookEvents.NoticeClosed => "a notice ends",
        WebhookEvents.LogEntryMade => "a log entry is made",
        WebhookEvents.LogEntryUndone => "a log entry is undone",
        WebhookEvents.BedMade => "a bed is made",
        WebhookEvents.BedChanged => "a bed is changed",
        WebhookEvents.RoundDone => "the morning round of a site is done",
        WebhookEvents.Test => "a test",
        _ => name,
    };

    public override string WebhooksError(string code, int? status) => code switch
    {
        DeliveryErrors.Status => $"it answered with status {status}",
        DeliveryErrors.Gone => "it wants no more messages (410)",
        DeliveryErrors.Redirect => $"it sends elsewhere ({status}), which is not followed",
        DeliveryErrors.Timeout => "no answer within 20 seconds",
        DeliveryErrors.NoSuchHost => "there is no such host",
        DeliveryErrors.Blocked => "the host is not on the open internet",
        DeliveryErrors.Tls => "its certificate is not good",
        DeliveryErrors.SecretLost => "its secret can no longer be read; make a new one",
        DeliveryErrors.Stopped => "it waited when the webhook was switched off",
        _ => "it cannot be reached",
    };
}
