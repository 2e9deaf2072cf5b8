namespace FruitWatch.Service.Text;

internal sealed partial class English
{
    public override string AuditTitle => "Audit";

    public override string AuditLead => "Who changed what, the last first. Kept for two years; nobody can change it.";

    public override string AuditNone => "Nothing is noted that fits.";

    public override string AuditPerson => "Person";

    public override string AuditAnybody => "anybody";

    public override string AuditSubjectLabel => "About";

    public override string AuditAnything => "anything";

    public override string AuditSince => "Since";

    public override string AuditShow => "Show";

    public override string AuditService => "the service";

    public override string AuditWhen => "When (UTC)";

    public override string AuditWho => "Who";

    public override string AuditWhat => "What";

    public override string AuditDetails => "Details";

    public override string AuditNewText => "changed";

    public override string AuditGone(long key) => $"a former member ({key})";

    public override string AuditVia(string via) => via.Split(':') switch
    {
        ["session"] => "signed in",
        ["token", var key] => $"token {key}",
        ["link", var key] => $"personal link {key}",
        ["terminal"] => "terminal",
        ["demo"] => "demo",
        _ => "not signed in",
    };

    public override string AuditSubject(string subject) => subject switch
    {
        "cooperative" => "Cooperative",
        "site" => "Site",
        "bed" => "Bed",
        "log-entry" => "Log entry",
        "feed" => "Weather feed",
        "person" => "Person",
        "person-site" => "Site of a person",
        "person-bed-left-out" => "Bed that a person is not told of",
        "bed-grower" => "Grower of a bed",
        "invitation" => "Invitation",
        "personal-link" => "Personal link",
        "calendar" => "Calendar",
        "mail-deed" => "Told from a mail",
        "token" => "Token",
        "webhook" => "Webhook",
        "sign-in" => "Sign-in",
        "account" => "Account",
        "password" => "Password",
        "passkey" => "Passkey",
        "second-factor" => "Second factor",
        "email" => "E-mail address",
        "mail" => "Mail",
        _ => subject,
    };

    public override string AuditDeed(string deed) => deed switch
    {
        "made" => "made",
        "changed" => "changed",
        "deleted" => "deleted",
        "exported" => "exported",
        "imported" => "imported",
        "refused" => "refused",
        "done" => "done",
        "accepted" => "accepted",
        "revoked" => "taken back",
        "opened" => "opened",
        "confirmed" => "confirmed",
        "reset" => "reset",
        "sent" => "sent",
        "signed-out" => "signed out everywhere",
        _ => deed,
    };
}
