using FruitWatch.Service.Tokens;
using NodaTime;

namespace FruitWatch.Service.Text;

/// <summary>Tokens of programs.</summary>
internal sealed partial class English
{
    public override string TokensTitle => "Tokens";

    public override string TokensLead => "A token lets a program read and write for you: never more than you may yourself, and only what you tick.";

    public override string TokensHowTo => "How programs use the web API";

    public override string TokensMade(string name) => $"The token “{name}”";

    public override string TokensShownOnce => "Copy it now: it is shown this once and cannot be looked up later. Whoever has it can do what it allows.";

    public override string TokensMakeOne => "A new token";

    public override string TokensName => "What it is for";

    public override string TokensNameHint => "Such as: rain gauge in the orchard";

    public override string TokensScopes => "What it may do";

    public override string TokensDays => "Good for";

    public override string TokensForDays(int days) => days == 365 ? "a year" : $"{days} days";

    public override string TokensMake => "Make the token";

    public override string TokensYours => "Your tokens";

    public override string TokensOfOthers => "Tokens of other members";

    public override string TokensNone => "There are none.";

    public override string TokensRevoke => "Take back";

    public override string TokensRevokeNamed(string name) => $"Take back “{name}”";

    public override string TokensRevokeMeans => "The program that uses it is shut out at once. This cannot be undone.";

    public override string TokensRevoked => "The token was taken back. It opens nothing any more.";

    public override string TokensUntil(LocalDate day) => $"Until {Date(day)}";

    public override string TokensLastUsed(LocalDate? day) => day is { } known ? $"Last used {Date(known)}" : "Never used";

    public override string TokensOf(string person) => $"Of {person}";

    public override string TokensTooMany(int most) => $"You have {most} tokens that are good. Take one back first.";

    public override string TokensNameMissing(int most) => $"Write what it is for, in 1 to {most} characters.";

    public override string TokensScopeMissing => "Tick at least one.";

    public override string TokensScope(string scope) => scope switch
    {
        "read" => "Read beds, notices, outlooks, feeds and mails, as far as you may",
        "log" => "Write and undo log entries",
        "beds" => "Make and change beds",
        "sites" => "Make and change sites",
        "feeds" => "Try, save and remove weather feeds",
        "people" => "Invite and change members",
        "cooperative" => "Manage the cooperative: settings, webhooks, everybody's tokens, audit, export",
        "settings" => "Change your own language, units and hours",
        _ => "Make and take back your own tokens",
    };

    public override string ApiTitle => "The web API";

    public override string ApiLead => "Everything that the pages do, for programs.";

    public override string ApiOperations => "Operations";

    public override string NameOf(TokenState state) => state switch
    {
        TokenState.Good => "good",
        TokenState.Expired => "expired",
        _ => "taken back",
    };
}
