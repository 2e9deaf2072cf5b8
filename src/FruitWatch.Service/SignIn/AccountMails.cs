using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Text;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.SignIn;

/// <summary>What the holder of an account is told by mail.</summary>
internal enum AccountNews
{
    /// <summary>Somebody asked for a new password; with a link.</summary>
    ResetAsked,

    /// <summary>Is this your address? With a link.</summary>
    ConfirmAddress,

    /// <summary>Is this to be your new address? With a link, to the new one.</summary>
    NewAddress,

    /// <summary>The address is another one now; to the old one.</summary>
    AddressChanged,

    /// <summary>The password is another one now.</summary>
    PasswordChanged,

    /// <summary>An authenticator app is asked for from now on.</summary>
    CodesOn,

    /// <summary>No code is asked for any longer.</summary>
    CodesOff,

    /// <summary>Recovery codes were made anew.</summary>
    RecoveryCodesRenewed,

    /// <summary>Somebody signed in with a recovery code.</summary>
    RecoveryCodeUsed,

    /// <summary>A passkey was added.</summary>
    PasskeyAdded,

    /// <summary>A passkey was removed.</summary>
    PasskeyRemoved,
}

/// <summary>
/// Mails about an account: in the name of the service and not of a cooperative, so that no coordinator reads them, sent at once, without
/// a way to unsubscribe.
/// </summary>
internal sealed class AccountMails(StoreFactory stores, ServiceOptions options, MailSoon soon, IClock clock)
{
    /// <summary>Keys of mails about accounts begin so.</summary>
    public const string KeyPrefix = "account:";

    private static readonly Duration s_ofUse = Duration.FromHours(24);
    private static readonly Duration s_linkOfUse = Duration.FromHours(2);

    /// <summary>Mails with a link that one account gets in an hour; more would be somebody else's doing.</summary>
    public const int LinksAnHour = 3;

    /// <summary>Tells the holder.</summary>
    /// <param name="account">Whose account.</param>
    /// <param name="news">What.</param>
    /// <param name="stop">Stops it.</param>
    /// <param name="path">Where its button leads; null for the account's own page.</param>
    /// <param name="to">Another address than the account's.</param>
    /// <param name="language">Language where the holder is a member nowhere.</param>
    /// <returns>False: as many links as may be have been sent in the last hour.</returns>
    public async Task<bool> TellAsync(
        Account account, AccountNews news, CancellationToken stop, string? path = null, string? to = null, string? language = null)
    {
        await using var store = stores.CreateDbContext();
        var now = clock.GetCurrentInstant();
        var root = FormattableString.Invariant($"{KeyPrefix}{account.Id}:{(path is null ? "told" : "link")}:");
        if (path is not null)
        {
            var since = now - Duration.FromHours(1);
            if (await store.Outbox.CountAsync(mail => mail.Key.StartsWith(root) && mail.CreatedAt > since, stop) >= LinksAnHour)
                return false;
        }

        var person = await store.People.AsNoTracking().Where(row => row.AccountId == account.Id).OrderBy(row => row.Id).FirstOrDefaultAsync(stop);
        var words = Words.For(person?.Language ?? language ?? "en");
        var address = to ?? account.Email!;
        var letter = LetterOf(news, person?.Name, account.Email!, SignInAddresses.Of(options.BaseUrl, path ?? SignInAddresses.Security), words);
        var key = $"{root}{Guid.NewGuid():N}";
        await store.AddIfNewAsync(
            new OutgoingMail
            {
                Key = key,
                ToName = OneLine.Of(person?.Name ?? address, 80),
                ToAddress = address,
                Subject = letter.Subject,
                TextBody = TextLetter.Of(letter),
                HtmlBody = HtmlLetter.Of(letter),
                MessageId = $"{key.Replace(':', '.')}@{options.MessageDomain}",
                State = MailState.Pending,
                NextTryAt = now,
                NotAfter = now + (path is null ? s_ofUse : s_linkOfUse),
                CreatedAt = now,
            },
            stop);
        soon.Send();
        return true;
    }

    private static Letter LetterOf(AccountNews news, string? name, string email, string address, Words words) => new(
        words.Language,
        words.AccountMailSubject(news),
        words.AccountMailSaid(news, email),
        "FruitWatch",
        words.AccountMailSubject(news),
        words.AccountMailGreeting(name is null ? null : OneLine.Of(name, 80)),
        words.AccountMailSaid(news, email),
        [],
        new LetterLink(words.AccountMailButton(news), address),
        [],
        [words.AccountMailIfNotYou(news), words.AccountMailWhyYou(email)]);
}
