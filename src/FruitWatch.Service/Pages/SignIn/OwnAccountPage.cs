using System.Globalization;
using FruitWatch.Service.Access;
using FruitWatch.Service.SignIn;
using FruitWatch.Service.Text;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Mvc;
using NodaTime;

namespace FruitWatch.Service.Pages.SignIn;

/// <summary>What a page about one's own account needs.</summary>
/// <param name="Visitor">Who is asking.</param>
/// <param name="Accounts">Identity's manager.</param>
/// <param name="Sessions">The session in hand.</param>
/// <param name="Proofs">What is asked again.</param>
/// <param name="Mails">What the holder is told.</param>
/// <param name="Stores">The store.</param>
/// <param name="Words">Words of the request.</param>
/// <param name="Clock">The clock.</param>
internal sealed record OwnAccount(
    Visitor Visitor, UserManager<Account> Accounts, Sessions Sessions, Proofs Proofs, AccountMails Mails, StoreFactory Stores, Words Words, IClock Clock);

/// <summary>The pages about one's own way of signing in. Whatever is changed on them asks for the password again, and is told by mail.</summary>
internal abstract class OwnAccountPage(OwnAccount own) : SignInPage(own.Words, own.Clock)
{
    protected OwnAccount Own => own;

    /// <summary>The account; null in the demo, where nobody has one.</summary>
    public Account? Holder { get; private set; }

    /// <summary>What was done.</summary>
    public string? Said { get; protected set; }

    protected async Task<Account?> OpenAsync(string? done = null)
    {
        KeepToItself();
        Said = done is null ? null : Words.SecurityDone(done);
        return Holder = own.Visitor.AccountId is { } key ? await own.Accounts.FindByIdAsync(key.ToString(CultureInfo.InvariantCulture)) : null;
    }

    /// <summary>Asks again; null where it was shown.</summary>
    protected async Task<IActionResult?> AskAgainAsync(Account account, string field, string? typed, CancellationToken stop, bool codeWillDo = true)
    {
        var proof = await own.Proofs.AgainAsync(account, typed ?? "", codeWillDo, stop);
        if (proof.NotBefore is { } notBefore)
            return Wait(notBefore);
        return proof.Good ? null : Refuse(field, Words.SecurityPresentWrong);
    }

    /// <summary>Writes down what was changed, tells the holder, and keeps this session where the others have ended.</summary>
    protected async Task ToldAsync(Account account, string action, AccountNews? news, CancellationToken stop)
    {
        var person = own.Visitor.Person;
        await using (var store = own.Stores.CreateDbContext())
        {
            AuditTrail.Note(
                store, own.Clock.GetCurrentInstant(), action, account.Id.ToString(CultureInfo.InvariantCulture), null, "session", person?.CooperativeId, person?.Id);
            await store.SaveChangesAsync(stop);
        }

        if (news is { } told)
            await own.Mails.TellAsync(account, told, stop, language: Words.Language);
        await own.Sessions.ContinueAsync(account, person?.Id);
    }
}
