using System.Globalization;
using System.Threading.Channels;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.WebUtilities;
using NodaTime;

namespace FruitWatch.Service.SignIn;

/// <summary>
/// New passwords that were asked for. Worked off beside the requests: how long one takes to answer does not tell whether the address is
/// known (ASVS 5.0 6.3.8).
/// </summary>
internal sealed class ForgottenPasswords(IServiceScopeFactory scopes, ILogger<ForgottenPasswords> log) : BackgroundService
{
    // A flood is dropped: who meant it asks again.
    private readonly Channel<(string Email, string Language)> asked = Channel.CreateBounded<(string, string)>(
        new BoundedChannelOptions(1000) { FullMode = BoundedChannelFullMode.DropWrite });

    public void Ask(string email, string language) => asked.Writer.TryWrite((email, language));

    /// <summary>Address, within the service, at which the holder sets a password; good once, for two hours.</summary>
    public static async Task<string> AddressAsync(UserManager<Account> accounts, Account account) => QueryHelpers.AddQueryString(
        SignInAddresses.Reset,
        new Dictionary<string, string?>
        {
            ["account"] = account.Id.ToString(CultureInfo.InvariantCulture),
            ["token"] = await accounts.GeneratePasswordResetTokenAsync(account),
        });

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        await foreach (var (email, language) in asked.Reader.ReadAllAsync(stoppingToken))
        {
            try
            {
                await MailAsync(email, language, stoppingToken);
            }
#pragma warning disable CA1031 // One that fails must not end those that come after it.
            catch (Exception failed) when (!stoppingToken.IsCancellationRequested)
#pragma warning restore CA1031
            {
                log.LogError(failed, "A mail with a new password could not be written");
            }
        }
    }

    private async Task MailAsync(string email, string language, CancellationToken stop)
    {
        await using var scope = scopes.CreateAsyncScope();
        var services = scope.ServiceProvider;
        var accounts = services.GetRequiredService<UserManager<Account>>();
        // One that nobody confirmed may be another's: no way in is sent there.
        if (await accounts.FindByEmailAsync(email) is not { EmailConfirmed: true } account)
            return;
        if (!await services.GetRequiredService<AccountMails>().TellAsync(account, AccountNews.ResetAsked, stop, await AddressAsync(accounts, account), language: language))
            return;
        await using var store = services.GetRequiredService<StoreFactory>().CreateDbContext();
        AuditTrail.Note(
            store, services.GetRequiredService<IClock>().GetCurrentInstant(), "password.reset-asked", account.Id.ToString(CultureInfo.InvariantCulture), via: "nobody");
        await store.SaveChangesAsync(stop);
    }
}
