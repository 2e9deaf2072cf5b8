using FruitWatch.Service.Access;
using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.SignIn;
using FruitWatch.Service.Text;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Identity;
using NodaTime;

namespace FruitWatch.Service.Operating;

/// <summary>
/// The commands <c>coordinator add</c> and <c>operator add</c>: whoever has the terminal lets people in, without mail and without a
/// password that anybody but its holder knows.
/// </summary>
internal static class AccountVerbs
{
    public static readonly string[] KnownOfCoordinator = ["cooperative", "name", "email", "language"];
    public static readonly string[] KnownOfOperator = ["email"];
    private static readonly Duration s_open = Duration.FromDays(7);

    /// <summary>With the store that the service is set to.</summary>
    public static async Task RunAsync(Func<IServiceProvider, Task> add)
    {
        await using var app = ServiceHost.Build([]);
        await StoreMigration.PrepareAsync(app.Services.GetRequiredService<StoreFactory>(), app.Services.GetRequiredService<IClock>(), app.Logger);
        await add(app.Services);
    }

    /// <summary>Makes cooperative and coordinator where they are not there, and prints where the coordinator sets a password.</summary>
    public static async Task AddCoordinatorAsync(IServiceProvider services, VerbOptions options, TextWriter output, CancellationToken stop = default)
    {
        var language = options.Optional("language") ?? "en";
        if (Words.All.All(words => words.Language != language))
            throw new VerbException($"--language: '{language}'; expected one of {string.Join(", ", Words.All.Select(words => words.Language))}.");
        var coordinator = new Coordinator(Name(options, "cooperative"), Name(options, "name"), Address(options), language);
        var clock = services.GetRequiredService<IClock>();
        var now = clock.GetCurrentInstant();
        await using var scope = services.CreateAsyncScope();
        await using var store = services.GetRequiredService<StoreFactory>().CreateDbContext();
        await using var transaction = await store.Database.BeginTransactionAsync(stop);
        var person = await coordinator.AppointAsync(store, stop);
        AuditTrail.Note(store, now, "coordinator.appointed", null, null, "terminal", person.CooperativeId, person.Id);
        var baseUrl = services.GetRequiredService<ServiceOptions>().BaseUrl;
        if (person is { AccountId: { } key, Active: true })
        {
            await store.SaveChangesAsync(stop);
            await transaction.CommitAsync(stop);
            var accounts = scope.ServiceProvider.GetRequiredService<UserManager<Account>>();
            var account = await accounts.FindByIdAsync(key.ToString(System.Globalization.CultureInfo.InvariantCulture));
            await output.WriteLineAsync($"{person.Email} is coordinator of {coordinator.Cooperative} and has an account. A new password can be set here, once, within two hours:");
            await output.WriteLineAsync(SignInAddresses.Of(baseUrl, await ForgottenPasswords.AddressAsync(accounts, account!)));
            return;
        }

        var secret = Secrets.Draw();
        store.Invitations.Add(new Invitation
        {
            CooperativeId = person.CooperativeId,
            PersonId = person.Id,
            Hash = Secrets.Hash(secret),
            SentAt = now,
            ExpiresAt = now + s_open,
        });
        await store.SaveChangesAsync(stop);
        await transaction.CommitAsync(stop);
        await output.WriteLineAsync($"{person.Email} is to coordinate {coordinator.Cooperative}. They set a password here, once, within seven days:");
        await output.WriteLineAsync(SignInAddresses.Invitation(baseUrl, secret));
    }

    /// <summary>Makes an account, or takes the one that there is, for running the service; prints where its password is set.</summary>
    public static async Task AddOperatorAsync(IServiceProvider services, VerbOptions options, TextWriter output, CancellationToken stop = default)
    {
        var email = Address(options);
        var now = services.GetRequiredService<IClock>().GetCurrentInstant();
        await using var scope = services.CreateAsyncScope();
        var accounts = scope.ServiceProvider.GetRequiredService<UserManager<Account>>();
        var name = accounts.NormalizeName(email);
        await using (var store = services.GetRequiredService<StoreFactory>().CreateDbContext())
        {
            var account = store.Accounts.SingleOrDefault(row => row.NormalizedUserName == name);
            if (account is null)
                store.Accounts.Add(account = scope.ServiceProvider.GetRequiredService<Newcomers>().Make(email, password: null, confirmed: true, now));
            account.Operator = true;
            AuditTrail.Note(store, now, "operator.appointed", via: "terminal");
            await store.SaveChangesAsync(stop);
        }

        var holder = await accounts.FindByEmailAsync(email);
        await output.WriteLineAsync(
            holder!.PasswordHash is null
                ? $"{email} runs the service. The password is set here, once, within two hours:"
                : $"{email} runs the service, and signs in as before. A new password can be set here, once, within two hours:");
        await output.WriteLineAsync(SignInAddresses.Of(services.GetRequiredService<ServiceOptions>().BaseUrl, await ForgottenPasswords.AddressAsync(accounts, holder)));
    }

    private static string Address(VerbOptions options)
    {
        var email = options.Required("email").Trim();
        return MailOptions.IsOneAddress(email) && email.Length <= 254 ? email : throw new VerbException($"--email: '{email}'; expected one address, such as maren@example.org.");
    }

    private static string Name(VerbOptions options, string option)
    {
        var name = options.Required(option).Trim();
        return name.Length is > 0 and <= 80 ? name : throw new VerbException($"--{option}: expected 1 to 80 characters.");
    }
}
